import type { Defect, Layout, Placement } from "@/api/client";
import { type LaidShape, placedBox } from "@/canvas/roll_picture";
import { keyOf } from "./laid_shapes";

/** How things lie on the roll at one moment of editing. */
export interface Lay {
  placements: readonly Placement[];
  locked: ReadonlySet<string>;
  defects: readonly Defect[];
}

/** The present lay with what led to it and what was undone. */
export interface Table {
  /** Names the kept layout that is being edited. */
  sheet: string;
  kept: Lay;
  past: readonly Lay[];
  now: Lay;
  future: readonly Lay[];
}

export type Step =
  | { do: "load"; layout: Layout }
  | { do: "lay"; now: Lay }
  | { do: "settle"; from: Placement; to: Placement }
  | { do: "undo" }
  | { do: "redo" }
  | { do: "drop" };

const longest = 200; // steps remembered

export const tableOf = (layout: Layout): Table => {
  const now: Lay = { placements: bare(layout), locked: new Set(), defects: layout.defects };
  return { sheet: layout.sheet, kept: now, past: [], now, future: [] };
};

export function stepOf(table: Table, step: Step): Table {
  switch (step.do) {
    case "load":
      return loaded(table, step.layout);
    case "lay":
      return {
        ...table,
        past: [...table.past, table.now].slice(-longest),
        now: step.now,
        future: [],
      };
    // The rest of the last step: where a piece that was put down came to rest.
    case "settle":
      return table.now.placements.includes(step.from)
        ? { ...table, now: withPiece(table.now, step.to) }
        : table;
    case "undo": {
      const now = table.past.at(-1);
      if (!now) return table;
      return {
        ...table,
        past: table.past.slice(0, -1),
        now,
        future: [table.now, ...table.future],
      };
    }
    case "redo": {
      const [now, ...future] = table.future;
      if (!now) return table;
      return { ...table, past: [...table.past, table.now], now, future };
    }
    case "drop":
      return stepOf(table, { do: "lay", now: { ...table.kept, locked: table.now.locked } });
  }
}

/** Another layout was kept, by this hand or by a search: what was before can be gone back to as
 * long as the pieces are the same. */
function loaded(table: Table, layout: Layout): Table {
  const fresh = tableOf(layout);
  const ids = (lay: Lay) => lay.placements.map(keyOf).sort().join();
  if (ids(fresh.now) !== ids(table.now)) return fresh;
  const now = { ...fresh.now, locked: table.now.locked };
  const same = samePlaces(now, table.now);
  return {
    sheet: layout.sheet,
    kept: now,
    past: same ? table.past : [...table.past, table.now],
    now,
    future: same ? table.future : [],
  };
}

const bare = (layout: Layout): Placement[] =>
  layout.placements.map(({ piece, copy, turn_deg, x_mm, y_mm }) => ({
    piece,
    copy,
    turn_deg,
    x_mm,
    y_mm,
  }));

/** Whether two lays put everything in the same place; locks do not matter. */
export function samePlaces(a: Lay, b: Lay): boolean {
  if (a === b || (a.placements === b.placements && a.defects === b.defects)) return true;
  const places = new Map(a.placements.map((one) => [keyOf(one), one]));
  return (
    a.placements.length === b.placements.length &&
    JSON.stringify(a.defects) === JSON.stringify(b.defects) &&
    b.placements.every((one) => {
      const other = places.get(keyOf(one));
      return other?.x_mm === one.x_mm && other.y_mm === one.y_mm && other.turn_deg === one.turn_deg;
    })
  );
}

export const isChanged = (table: Table) => !samePlaces(table.kept, table.now);

/** The lay with one piece elsewhere. */
export const withPiece = (lay: Lay, moved: Placement): Lay => ({
  ...lay,
  placements: lay.placements.map((one) => (keyOf(one) === keyOf(moved) ? moved : one)),
});

export const withDefect = (lay: Lay, index: number, defect: Defect | undefined): Lay => ({
  ...lay,
  defects: defect
    ? Object.assign([...lay.defects], { [index]: defect })
    : lay.defects.filter((_, at) => at !== index),
});

export function withLock(lay: Lay, key: string): Lay {
  const locked = new Set(lay.locked);
  if (!locked.delete(key)) locked.add(key);
  return { ...lay, locked };
}

/** Two pieces change places: the middle of each goes where that of the other was. */
export function swapped(lay: Lay, a: LaidShape, b: LaidShape): Lay {
  const middle = (shape: LaidShape) => {
    const box = placedBox(shape);
    return { x: (box.left + box.right) / 2, y: (box.bottom + box.top) / 2 };
  };
  const [from, to] = [middle(a), middle(b)];
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  return {
    ...lay,
    placements: lay.placements.map((one) => {
      const way = keyOf(one) === a.key ? 1 : keyOf(one) === b.key ? -1 : 0;
      return way === 0 ? one : { ...one, x_mm: one.x_mm + way * dx, y_mm: one.y_mm + way * dy };
    }),
  };
}

/** A turn about the middle of the piece's box, where it stays. */
export function turned(shape: LaidShape, piece: Placement, turn: number): Placement {
  const before = placedBox(shape);
  const after = placedBox({ ...shape, turn });
  return {
    ...piece,
    turn_deg: turn,
    x_mm: piece.x_mm + (before.left + before.right - after.left - after.right) / 2,
    y_mm: piece.y_mm + (before.bottom + before.top - after.bottom - after.top) / 2,
  };
}
