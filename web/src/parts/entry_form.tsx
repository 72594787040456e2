import { Button } from "@mantine/core";
import type { ReactNode } from "react";
import { Trouble } from "./trouble";
import classes from "./parts.module.css";

interface EntryFormProps {
  /** What the button says. */
  submit: string;
  onSubmit: (form: HTMLFormElement) => void;
  /** What a screen reader calls the form, where no heading does. */
  label?: string;
  busy?: boolean;
  error?: unknown;
  disabled?: boolean;
  /** Fields side by side where there is room. */
  inline?: boolean;
  children: ReactNode;
}

/** Fields, what went wrong with them, and the button that sends them. */
export function EntryForm(props: EntryFormProps) {
  const { submit, onSubmit, label, busy, error, disabled, inline, children } = props;
  return (
    <form
      className={classes.entryForm}
      data-inline={inline || undefined}
      aria-label={label}
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit(event.currentTarget);
      }}
    >
      {children}
      {error !== undefined && error !== null && <Trouble error={error} />}
      <div>
        <Button type="submit" loading={busy ?? false} disabled={disabled ?? false}>
          {submit}
        </Button>
      </div>
    </form>
  );
}

/** What stands in the named fields of a form. */
export const textsOf = (form: HTMLFormElement) =>
  Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]));
