import { useMutation } from "@tanstack/react-query";
import { useState } from "react";
import { answerOf, client } from "@/api/client";
import { useSession } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { PasswordField } from "@/parts/password_field";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./people.module.css";

const blank = { old_password: "", new_password: "", again: "" };

/** The person who is signed in, and their own password. */
export default function MePage() {
  const { words } = useReader();
  const person = useSession().data?.person;
  const [draft, setDraft] = useState(blank);
  const change = useMutation({
    mutationFn: ({ old_password, new_password }: typeof blank) =>
      answerOf(client.POST("/session/password", { body: { old_password, new_password } })),
    onSuccess: () => setDraft(blank),
  });
  if (!person) return null;
  const differs = draft.again !== "" && draft.again !== draft.new_password;
  const field = (name: keyof typeof blank, label: string) => (
    <PasswordField
      label={label}
      description={name === "new_password" ? words.people.passwordText : undefined}
      error={name === "again" && differs ? words.people.differs : undefined}
      autoComplete={name === "old_password" ? "current-password" : "new-password"}
      value={draft[name]}
      onChange={(event) => setDraft({ ...draft, [name]: event.currentTarget.value })}
      required
    />
  );
  return (
    <div className={classes.page}>
      <h1>{person.name}</h1>
      <p>
        {words.people.roles[person.role]} · {words.people.signInName}: {person.sign_in}
      </p>
      <Sheet title={words.people.ownPassword} className={classes.narrow}>
        <EntryForm
          submit={words.people.changePassword}
          onSubmit={() => change.mutate(draft)}
          busy={change.isPending}
          error={change.error}
          disabled={differs || draft.again === "" || draft.old_password === ""}
        >
          {field("old_password", words.people.oldPassword)}
          {field("new_password", words.people.wantedPassword)}
          {field("again", words.people.again)}
          {change.isSuccess && draft === blank && (
            <div role="status">
              <Note tone="plain" lines={[words.people.changed, words.people.changedText]} />
            </div>
          )}
        </EntryForm>
      </Sheet>
    </div>
  );
}
