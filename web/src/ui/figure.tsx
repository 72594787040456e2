import type { ReactNode } from "react";
import classes from "./ui.module.css";

interface FigureProps {
  label: string;
  value: ReactNode;
  size?: "small" | "normal" | "large";
  tone?: "normal" | "caution";
}

/** One measured value with its name; several of them make a row. */
export function Figure({ label, value, size = "normal", tone = "normal" }: FigureProps) {
  return (
    <dl className={classes.figure} data-size={size} data-tone={tone}>
      <dt>{label}</dt>
      <dd>{value}</dd>
    </dl>
  );
}
