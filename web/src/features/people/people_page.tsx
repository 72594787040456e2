import { Button, Select, Switch, TextInput } from "@mantine/core";
import { type FormEvent, useState } from "react";
import { answerOf, client } from "@/api/client";
import type { Role } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { PasswordField } from "@/parts/password_field";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { type Person, roles, usePeople, usePeopleChange } from "./session";
import classes from "./people.module.css";

const isRole = (value: string | null): value is Role => roles.some((role) => role === value);

/** Who works here: added, changed, switched off; the lead's page. */
export default function PeoplePage() {
  const { words } = useReader();
  const people = usePeople();
  return (
    <div className={classes.page}>
      <h1>{words.people.title}</h1>
      {people.error && <Trouble error={people.error} again={() => void people.refetch()} />}
      <Sheet title={words.people.everyone}>
        <div className={classes.people}>
          {people.data?.map((person) => (
            <PersonRow key={`${person.id} ${person.revision}`} person={person} />
          ))}
        </div>
      </Sheet>
      <Sheet title={words.people.add}>
        <NewPerson />
      </Sheet>
    </div>
  );
}

function RoleSelect({ value, onChange }: { value: Role; onChange: (role: Role) => void }) {
  const { words } = useReader();
  return (
    <Select
      label={words.people.role}
      data={roles.map((role) => ({ value: role, label: words.people.roles[role] }))}
      value={value}
      onChange={(chosen) => isRole(chosen) && onChange(chosen)}
      allowDeselect={false}
    />
  );
}

function PersonRow({ person }: { person: Person }) {
  const { words } = useReader();
  const [draft, setDraft] = useState(person);
  const change = usePeopleChange(({ id, ...rest }: Person) =>
    answerOf(
      client.POST("/people/{person}", {
        params: { path: { person: id } },
        body: {
          revision: rest.revision,
          name: rest.name,
          sign_in: rest.sign_in,
          role: rest.role,
          active: rest.active,
        },
      }),
    ),
  );
  const same = JSON.stringify(draft) === JSON.stringify(person);
  return (
    <>
      <form
        className={classes.row}
        aria-label={person.name}
        onSubmit={(event) => {
          event.preventDefault();
          change.mutate(draft);
        }}
      >
        <TextInput
          label={words.people.name}
          value={draft.name}
          onChange={(event) => setDraft({ ...draft, name: event.currentTarget.value })}
        />
        <TextInput
          label={words.people.signInName}
          value={draft.sign_in}
          onChange={(event) => setDraft({ ...draft, sign_in: event.currentTarget.value })}
        />
        <RoleSelect value={draft.role} onChange={(role) => setDraft({ ...draft, role })} />
        <Switch
          label={words.people.active}
          checked={draft.active}
          onChange={(event) => setDraft({ ...draft, active: event.currentTarget.checked })}
        />
        <Button type="submit" variant="default" disabled={same} loading={change.isPending}>
          {words.people.save}
        </Button>
      </form>
      {change.error && <Trouble error={change.error} />}
      <NewPassword person={person} />
    </>
  );
}

function NewPassword({ person }: { person: Person }) {
  const { words } = useReader();
  const [open, setOpen] = useState(false);
  const set = usePeopleChange(async (password: string) => {
    await answerOf(
      client.POST("/people/{person}/password", {
        params: { path: { person: person.id } },
        body: { password },
      }),
    );
    setOpen(false);
  });
  if (!open)
    return (
      <div>
        <Button variant="subtle" size="compact-sm" onClick={() => setOpen(true)}>
          {words.people.newPassword}
        </Button>
      </div>
    );
  return (
    <form
      className={classes.row}
      onSubmit={(event: FormEvent<HTMLFormElement>) => {
        event.preventDefault();
        set.mutate(String(new FormData(event.currentTarget).get("password")));
      }}
    >
      <PasswordField
        name="password"
        label={words.people.newPassword}
        description={words.people.passwordText}
        autoComplete="new-password"
        required
      />
      <Button type="submit" variant="default" loading={set.isPending}>
        {words.people.save}
      </Button>
      {set.error && <Trouble error={set.error} />}
    </form>
  );
}

const nobody = { name: "", sign_in: "", role: "installer" as Role, password: "" };

function NewPerson() {
  const { words } = useReader();
  const [draft, setDraft] = useState(nobody);
  const add = usePeopleChange(async (order: typeof nobody) => {
    await answerOf(client.POST("/people", { body: order }));
    setDraft(nobody);
  });
  return (
    <EntryForm
      submit={words.people.add}
      onSubmit={() => add.mutate(draft)}
      busy={add.isPending}
      error={add.error}
    >
      <TextInput
        label={words.people.name}
        value={draft.name}
        onChange={(event) => setDraft({ ...draft, name: event.currentTarget.value })}
        required
      />
      <TextInput
        label={words.people.signInName}
        description={words.people.signInText}
        value={draft.sign_in}
        onChange={(event) => setDraft({ ...draft, sign_in: event.currentTarget.value })}
        required
      />
      <RoleSelect value={draft.role} onChange={(role) => setDraft({ ...draft, role })} />
      <PasswordField
        label={words.people.password}
        description={words.people.passwordText}
        value={draft.password}
        onChange={(event) => setDraft({ ...draft, password: event.currentTarget.value })}
        autoComplete="new-password"
      />
    </EntryForm>
  );
}
