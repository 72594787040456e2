import { useCallback, useEffect, useMemo, useReducer, useState } from "react";
import type { Defect, Layout, LayoutEdit, Placement } from "@/api/client";
import { checkLayout, useKeepLayout, useMakeRoom } from "@/api/queries";
import { type LaidShape, placedBox } from "@/canvas/roll_picture";
import { nearestTurn, nextTurn } from "@/geometry/snap";
import { keyOf, laidPieces, placedShapes } from "./laid_shapes";
import {
  isChanged,
  type Lay,
  stepOf,
  swapped,
  tableOf,
  turned,
  withDefect,
  withLock,
  withPiece,
} from "./lay";
import { useCheck } from "./use_check";

export const freeTurn = 15; // degrees, the step where any turn is allowed
const settleWithin = 40; // mm
const newFault = { length_mm: 120, width_mm: 80 };

/** A kept layout under the hand: its present lay, what that breaks, and all that can be done. */
export function useTable(job: string, layout: Layout) {
  const [table, step] = useReducer(stepOf, layout, tableOf);
  const [error, setError] = useState<unknown>();
  const [snap, setSnap] = useState(true);
  const { found, error: unchecked, ask } = useCheck(job);
  const keeping = useKeepLayout(job);
  const making = useMakeRoom(job);
  // What was kept meanwhile is taken up before anything of the old one is shown.
  if (table.sheet !== layout.sheet) step({ do: "load", layout });

  const { now } = table;
  const changed = isChanged(table);
  const pieces = useMemo(() => laidPieces(layout), [layout]);
  const turns = useMemo(
    () => new Map(layout.placements.map((laid) => [keyOf(laid), laid.turns_deg])),
    [layout],
  );
  const shapes = useMemo(() => placedShapes(now.placements, pieces), [now.placements, pieces]);

  const editOf = useCallback(
    (lay: Lay): LayoutEdit => ({
      film: layout.film,
      sheet: layout.sheet,
      placements: [...lay.placements],
      defects: [...lay.defects],
    }),
    [layout.film, layout.sheet],
  );
  useEffect(() => {
    void ask(changed ? editOf(now) : undefined);
  }, [ask, changed, editOf, now]);

  const lay = (next: Lay) => {
    setError(undefined);
    if (next !== now) step({ do: "lay", now: next });
  };
  const pieceOf = (key: string) => now.placements.find((one) => keyOf(one) === key);
  const shapeOf = (key: string) => shapes.find((shape) => shape.key === key);
  const turnsOf = (key: string) => turns.get(key) ?? [];

  /** Puts a piece down; where it clashes it slides to the nearest free place, if snapping. */
  const put = async (piece: Placement) => {
    const next = withPiece(now, piece);
    lay(next);
    if (!snap) return;
    try {
      const moved = next.placements.indexOf(piece);
      const answer = await checkLayout(job, { ...editOf(next), moved, settle_mm: settleWithin });
      const { free } = answer;
      if (free) step({ do: "settle", from: piece, to: { ...piece, ...free } });
    } catch (fault) {
      setError(fault);
    }
  };

  return {
    now,
    shapes,
    turnsOf,
    pieceOf,
    shapeOf,
    changed,
    snap,
    setSnap,
    canUndo: table.past.length > 0,
    canRedo: table.future.length > 0,
    found,
    error: error ?? unchecked,
    keeping: keeping.isPending,
    making: making.isPending,
    put,
    place: (piece: Placement) => lay(withPiece(now, piece)),
    check: (piece: Placement) => void ask(editOf(withPiece(now, piece))),
    checkLay: () => void ask(changed ? editOf(now) : undefined),
    undo: () => step({ do: "undo" }),
    redo: () => step({ do: "redo" }),
    drop: () => step({ do: "drop" }),
    lock: (key: string) => lay(withLock(now, key)),
    turn: (key: string, way: 1 | -1) => {
      const [piece, shape] = [pieceOf(key), shapeOf(key)];
      if (piece && shape)
        lay(
          withPiece(
            now,
            turned(shape, piece, nextTurn(piece.turn_deg, turnsOf(key), way, freeTurn)),
          ),
        );
    },
    turnTo: (key: string, turn: number) => {
      const [piece, shape] = [pieceOf(key), shapeOf(key)];
      if (piece && shape)
        lay(withPiece(now, turned(shape, piece, nearestTurn(turn, turnsOf(key), 0.1))));
    },
    swap: (a: string, b: string) => {
      const [one, other] = [shapeOf(a), shapeOf(b)];
      if (one && other) lay(swapped(now, one, other));
    },
    room: async (key: string) => {
      const kept = now.placements.flatMap((one, index) =>
        keyOf(one) === key || now.locked.has(keyOf(one)) ? [index] : [],
      );
      try {
        const roomy = await making.mutateAsync({ ...editOf(now), kept });
        lay({ ...now, placements: roomy.placements });
      } catch (fault) {
        setError(fault);
      }
    },
    defect: (index: number, defect: Defect | undefined) => lay(withDefect(now, index, defect)),
    /** A new fault, in the middle of the film near the given place along it; its index. */
    addDefect: (along: number) => {
      lay(
        withDefect(now, now.defects.length, {
          x_mm: Math.max(0, along - newFault.length_mm / 2),
          y_mm: (layout.width_mm - newFault.width_mm) / 2,
          ...newFault,
        }),
      );
      return now.defects.length;
    },
    keep: () => keeping.mutate(editOf(now), { onError: setError }),
    /** What a search needs to go on from here; `afresh`: from the locks and faults alone. */
    searchFrom: (afresh: boolean): LayoutEdit => ({
      ...editOf(now),
      ...(afresh && { placements: [] }),
      locked: now.placements.filter((one) => now.locked.has(keyOf(one))),
    }),
    isBound: now.locked.size > 0 || now.defects.length > 0,
  };
}

export type RollTable = ReturnType<typeof useTable>;

/** Length of roll that shapes take, and the share of it that is no piece. */
export function usedBy(layout: Layout, shapes: readonly LaidShape[]) {
  const end = shapes.reduce((far, shape) => Math.max(far, placedBox(shape).right), 0);
  const length = end + layout.margins.end_mm;
  return { length, waste: 1 - layout.piece_area_mm2 / Math.max(layout.width_mm * length, 1) };
}
