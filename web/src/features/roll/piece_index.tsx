import { type KeyboardEvent, useEffect, useId, useMemo, useRef } from "react";
import { type LaidShape, placedBox } from "@/canvas/roll_picture";
import { byZone, zoneFill } from "@/canvas/zones";
import { useReader } from "@/words/preferences";
import classes from "./roll.module.css";

interface PieceIndexProps {
  shapes: readonly LaidShape[];
  picked: string | undefined;
  onPick: (key: string) => void;
}

/** The pieces on the roll by name: the picture's twin for keyboard and screen reader. */
export function PieceIndex({ shapes, picked, onPick }: PieceIndexProps) {
  const { words, format } = useReader();
  const base = useId();
  const list = useRef<HTMLDivElement>(null);
  const order = useMemo(
    () => [...shapes].sort((a, b) => byZone(a.zone, b.zone) || a.name.localeCompare(b.name)),
    [shapes],
  );
  useEffect(() => {
    if (picked !== undefined)
      list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: "nearest" });
  }, [picked]);

  const walk = (event: KeyboardEvent) => {
    const at = order.findIndex(({ key }) => key === picked);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: order.length - 1 }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    const shape = order[Math.min(order.length - 1, Math.max(0, next))];
    if (shape) onPick(shape.key);
  };
  const idOf = (key: string) => `${base}-${key.replaceAll(" ", "-")}`;

  return (
    <div
      ref={list}
      className={classes.index}
      role="listbox"
      tabIndex={0}
      aria-label={words.rollPage.list}
      aria-activedescendant={picked === undefined ? undefined : idOf(picked)}
      onKeyDown={walk}
    >
      {order.map((shape) => (
        <div
          key={shape.key}
          id={idOf(shape.key)}
          role="option"
          aria-selected={shape.key === picked}
          onClick={() => onPick(shape.key)}
        >
          <i style={{ background: zoneFill(shape.zone) }} aria-hidden="true" />
          <span>{shape.name}</span>
          <span>{format.rollLength(placedBox(shape).left)}</span>
        </div>
      ))}
    </div>
  );
}
