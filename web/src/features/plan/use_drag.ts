import { useEffect, useRef, useState } from "react";
import { type MoveAnswer, type Plan, tryMove, type WorkMove } from "@/api/plan";
import { gutter, lanesOf } from "./board";
import type { Chosen } from "./chosen";
import { moment, type Scale, wallTime } from "./scale";

/** What is held over the board, and where it would be put. */
export interface Grip {
  chosen: Chosen;
  kind: "bay" | "person";
  lane: string;
  from: string;
  width: number;
}

const threshold = 5; // px; less is a click

export const moveOf = (grip: Grip): WorkMove =>
  grip.kind === "bay"
    ? { job: grip.chosen.job, from: grip.from, bay: grip.lane }
    : {
        job: grip.chosen.job,
        task: grip.chosen.task ?? "",
        from: grip.from,
        person: grip.lane,
        instead_of: grip.chosen.person ?? "",
      };

/** Taking hold of a block: the server is asked at every new place, and once more on letting go. */
export function useDrag(plan: Plan | undefined, scale: Scale, drop: (move: WorkMove) => void) {
  const [grip, setGrip] = useState<Grip>();
  const [answer, setAnswer] = useState<MoveAnswer>();
  const asked = useRef<AbortController>(undefined);
  const moved = useRef(false);

  const key = grip ? JSON.stringify(moveOf(grip)) : "";
  useEffect(() => {
    if (!key) return;
    asked.current?.abort();
    const control = new AbortController();
    asked.current = control;
    tryMove(JSON.parse(key) as WorkMove, control.signal)
      .then((found) => !control.signal.aborted && setAnswer(found))
      .catch(() => undefined);
    return () => control.abort();
  }, [key]);

  const grab = (event: React.PointerEvent, chosen: Chosen, from: string) => {
    if (!plan || event.button !== 0) return;
    const board = (event.currentTarget as Element).closest("[data-board]");
    if (!board) return;
    const kind = chosen.task === undefined ? "bay" : "person";
    const start = { x: event.clientX, y: event.clientY };
    const offset = event.clientX - board.getBoundingClientRect().left - gutter;
    const grabbed = offset - scale.x(moment(from));
    const width = (event.currentTarget as SVGGElement).getBBox().width;
    const lanes = lanesOf(plan).lanes.filter((lane) => lane.kind === kind);
    moved.current = false;
    let last: Grip | undefined;

    const follow = (pointer: PointerEvent) => {
      if (
        !moved.current &&
        Math.hypot(pointer.clientX - start.x, pointer.clientY - start.y) < threshold
      )
        return;
      moved.current = true;
      const frame = board.getBoundingClientRect();
      const y = pointer.clientY - frame.top;
      const lane = [...lanes].sort((a, b) => Math.abs(a.y + 23 - y) - Math.abs(b.y + 23 - y))[0];
      const at = scale.at(Math.max(0, pointer.clientX - frame.left - gutter - grabbed));
      last = { chosen, kind, lane: lane?.id ?? "", from: wallTime(at), width };
      setGrip((before) =>
        before?.from === last?.from && before?.lane === last?.lane ? before : last,
      );
    };
    const end = (pointer: Event) => {
      removeEventListener("pointermove", follow);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
      removeEventListener("keydown", cancel);
      asked.current?.abort();
      setGrip(undefined);
      setAnswer(undefined);
      if (last && pointer.type === "pointerup") drop(moveOf(last));
    };
    const cancel = (press: KeyboardEvent) => {
      if (press.key !== "Escape") return;
      last = undefined;
      end(press);
    };
    addEventListener("pointermove", follow);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
    addEventListener("keydown", cancel);
  };

  return { grip, answer, grab };
}
