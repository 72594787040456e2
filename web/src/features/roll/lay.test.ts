import { expect, it } from "vitest";
import type { Layout } from "@/api/client";
import { placedBox } from "@/canvas/roll_picture";
import { laidPieces, placedShapes } from "./laid_shapes";
import { isChanged, stepOf, swapped, tableOf, turned, withLock, withPiece } from "./lay";

const square = (piece: string, x: number, side: number) => ({
  piece,
  copy: 0,
  turn_deg: 0,
  x_mm: x,
  y_mm: 5,
  name: piece,
  zone: "front",
  turns_deg: [],
  outline: {
    outer: [
      [x, 5],
      [x + side, 5],
      [x + side, 5 + side],
      [x, 5 + side],
    ],
    holes: [],
  },
  slits: [],
});

const layout = (sheet: string, x = 10) =>
  ({
    sheet,
    defects: [],
    placements: [square("a", x, 100), square("b", 200, 50)],
  }) as unknown as Layout;

it("undoes and redoes a move, and forgets what was undone after another", () => {
  const start = tableOf(layout("one"));
  const [a] = start.now.placements;
  if (!a) throw new Error("no piece");
  const moved = stepOf(start, { do: "lay", now: withPiece(start.now, { ...a, x_mm: 40 }) });
  expect(isChanged(moved)).toBe(true);
  const back = stepOf(moved, { do: "undo" });
  expect(isChanged(back)).toBe(false);
  expect(stepOf(back, { do: "redo" }).now).toBe(moved.now);
  const other = stepOf(back, { do: "lay", now: withPiece(back.now, { ...a, x_mm: 7 }) });
  expect(stepOf(other, { do: "redo" })).toBe(other);
});

it("keeps its past when the edited layout is kept, and can go behind a search", () => {
  const start = tableOf(layout("one"));
  const [a] = start.now.placements;
  if (!a) throw new Error("no piece");
  const moved = stepOf(start, { do: "lay", now: withPiece(start.now, { ...a, x_mm: 40 }) });
  const kept = stepOf(moved, { do: "load", layout: layout("two", 40) });
  expect(kept.past).toHaveLength(1);
  expect(isChanged(kept)).toBe(false);
  const searched = stepOf(kept, { do: "load", layout: layout("three", 11) });
  expect(stepOf(searched, { do: "undo" }).now.placements[0]?.x_mm).toBe(40);
});

it("a lock is no change of the layout", () => {
  const start = tableOf(layout("one"));
  const locked = stepOf(start, { do: "lay", now: withLock(start.now, "a 0") });
  expect(locked.now.locked.has("a 0")).toBe(true);
  expect(isChanged(locked)).toBe(false);
});

it("swaps the middles of two pieces and turns one about its own", () => {
  const { now } = tableOf(layout("one"));
  const pieces = laidPieces(layout("one"));
  const [a, b] = placedShapes(now.placements, pieces);
  const [first] = now.placements;
  if (!a || !b || !first) throw new Error("no pieces");
  const [c] = placedShapes(swapped(now, a, b).placements, pieces);
  const middle = (box: { left: number; right: number }) => (box.left + box.right) / 2;
  expect(c && middle(placedBox(c))).toBeCloseTo(225);
  const [d] = placedShapes([turned(a, first, 90)], pieces);
  expect(d && middle(placedBox(d))).toBeCloseTo(middle(placedBox(a)));
  expect(d && placedBox(d).bottom).toBeCloseTo(placedBox(a).bottom);
});
