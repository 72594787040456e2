import { useSession } from "@/api/session";
import { DropMenu } from "@/ui/drop_menu";
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
  const called = words.people.roles[person.role];
  const others = (people.data ?? []).filter(({ id, active }) => active && id !== person.id);
  return (
    <DropMenu
      label={`${person.name}, ${called}`}
      lines={[
        { heading: `${person.name} · ${called}` },
        { name: words.customers.title, href: "/customers" },
        { name: words.people.me, href: "/me" },
        ...(person.role === "lead" ? [{ name: words.people.title, href: "/people" }] : []),
        ...(session.data?.demo
          ? [
              { heading: words.people.beSomeone, rule: true },
              ...others.map(({ id, name, role }) => ({
                name: `${name} · ${words.people.roles[role]}`,
                onClick: () => become.mutate(id),
              })),
            ]
          : [{ name: words.people.signOut, onClick: () => leave.mutate(undefined) }]),
      ]}
    >
      {initials}
    </DropMenu>
  );
}
