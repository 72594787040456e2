import { memo, useEffect, useRef } from "react";
import type { Cut } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./knife.module.css";

interface OrderProps {
  cut: Cut;
  names: ReadonlyMap<string, string>;
  now: number;
  onGo: (contour: number) => void;
}

/** The contours in the order of cutting; each leads the replay to its start. */
export const Order = memo(function Order({ cut, names, now, onGo }: OrderProps) {
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
        {cut.contours.map((contour, index) => (
          <li key={index}>
            <button
              type="button"
              onClick={() => onGo(index)}
              aria-current={index === now ? "step" : undefined}
              data-done={now < 0 || index < now}
            >
              <span>{index + 1}</span>
              <span>{names.get(contour.piece) ?? words.knifePage.frame}</span>
              <span>{words.knifePage.contourKinds[contour.kind]}</span>
            </button>
          </li>
        ))}
      </ol>
    </div>
  );
});
