import { ActionIcon, Menu } from "@mantine/core";
import { Link } from "wouter";
import { useSession } from "@/api/session";
import { useReader } from "@/words/preferences";
import { signIn, signOut, usePeople, useSessionChange } from "./session";

/** Who is signed in; the way out, and in the demo shop the way to be someone else. */
export function PersonMenu() {
  const { words } = useReader();
  const session = useSession();
  const people = usePeople();
  const become = useSessionChange((person: string) => signIn({ person }));
  const leave = useSessionChange(signOut);
  const person = session.data?.person;
  if (!person) return null;
  const initials = person.name
    .split(" ")
    .map((word) => word.charAt(0))
    .join("")
    .slice(0, 2);
  return (
    <Menu position="bottom-end">
      <Menu.Target>
        <ActionIcon
          variant="subtle"
          size={36}
          aria-label={`${person.name}, ${words.people.roles[person.role]}`}
        >
          {initials}
        </ActionIcon>
      </Menu.Target>
      <Menu.Dropdown>
        <Menu.Label>
          {person.name} · {words.people.roles[person.role]}
        </Menu.Label>
        <Menu.Item component={Link} href="/customers">
          {words.customers.title}
        </Menu.Item>
        <Menu.Item component={Link} href="/me">
          {words.people.me}
        </Menu.Item>
        {person.role === "lead" && (
          <Menu.Item component={Link} href="/people">
            {words.people.title}
          </Menu.Item>
        )}
        {session.data?.demo ? (
          <>
            <Menu.Divider />
            <Menu.Label>{words.people.beSomeone}</Menu.Label>
            {people.data
              ?.filter(({ id, active }) => active && id !== person.id)
              .map(({ id, name, role }) => (
                <Menu.Item key={id} onClick={() => become.mutate(id)}>
                  {name} · {words.people.roles[role]}
                </Menu.Item>
              ))}
          </>
        ) : (
          <Menu.Item onClick={() => leave.mutate(undefined)}>{words.people.signOut}</Menu.Item>
        )}
      </Menu.Dropdown>
    </Menu>
  );
}
