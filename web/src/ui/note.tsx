import type { ReactNode } from "react";
import { Icon } from "./icon";
import classes from "./ui.module.css";

interface NoteProps {
  tone: "plain" | "caution" | "fault";
  lines: readonly string[];
  action?: ReactNode;
}

/** Something to heed: the first line says what, the others why or what to do. */
export function Note({ tone, lines, action }: NoteProps) {
  return (
    <div className={classes.note} data-tone={tone} role={tone === "fault" ? "alert" : "note"}>
      <Icon name={tone === "plain" ? "info" : "heed"} />
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {action && <div className={classes.noteAction}>{action}</div>}
    </div>
  );
}

interface EmptyProps {
  title: string;
  children: ReactNode;
}

/** What a place says before there is anything in it: what will be here and how it comes. */
export function Empty({ title, children }: EmptyProps) {
  return (
    <div className={classes.empty}>
      <h2>{title}</h2>
      {children}
    </div>
  );
}
