import { Component, type ReactNode } from "react";
import { Trouble } from "@/parts/trouble";
import classes from "./app.module.css";

export function Fault({ error, again }: { error: unknown; again?: () => void }) {
  return (
    <div className={classes.fault}>
      <Trouble error={error} again={again} />
    </div>
  );
}

/** Keeps a fault on one page from taking the whole window. */
export class Guard extends Component<{ children: ReactNode }, { error?: unknown }> {
  override state: { error?: unknown } = {};

  static getDerivedStateFromError(error: unknown) {
    return { error };
  }

  override render() {
    if (this.state.error === undefined) return this.props.children;
    return <Fault error={this.state.error} again={() => location.reload()} />;
  }
}
