import { type CSSProperties, type ReactNode, useId } from "react";
import classes from "./ui.module.css";

interface SheetProps {
  title?: string;
  actions?: ReactNode;
  children: ReactNode;
  className?: string | undefined;
  style?: CSSProperties;
}

/** A titled part of a page. */
export function Sheet({ title, actions, children, className, style }: SheetProps) {
  const id = useId();
  return (
    <section
      className={`${classes.sheet} ${className ?? ""}`}
      style={style}
      aria-labelledby={title ? id : undefined}
    >
      {title && (
        <header className={classes.sheetHead}>
          <h2 id={id}>{title}</h2>
          {actions}
        </header>
      )}
      <div className={classes.sheetBody}>{children}</div>
    </section>
  );
}
