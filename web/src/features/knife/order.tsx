import { memo, useEffect, useRef } from "react";
import { useReader } from "@/words/preferences";
import type { Step } from "./track";
import classes from "./knife.module.css";

interface OrderProps {
  steps: readonly Step[];
  names: ReadonlyMap<string, string>;
  now: number;
  onGo: (step: Step) => void;
}

/** What is cut in its order; each leads the replay to its start. */
export const Order = memo(function Order({ steps, names, now, onGo }: OrderProps) {
  const { words } = useReader();
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    const row = list.current?.children[now];
    if (row instanceof HTMLElement && list.current)
      list.current.scrollTop = row.offsetTop - list.current.clientHeight / 2;
  }, [now]);
  return (
    <div className={classes.order}>
      <h2>{words.knifePage.order}</h2>
      <ol ref={list}>
        {steps.map((step, index) => (
          <li key={index}>
            <button
              type="button"
              onClick={() => onGo(step)}
              aria-current={index === now ? "step" : undefined}
              data-done={now < 0 || index < now}
            >
              <span>{index + 1}</span>
              <span>{names.get(step.piece) ?? words.knifePage.frame}</span>
              <span>
                {step.count > 1 && `${step.count} × `}
                {words.knifePage.contourKinds[step.kind]}
              </span>
            </button>
          </li>
        ))}
      </ol>
    </div>
  );
});
