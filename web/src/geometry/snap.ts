import type { Box } from "./view";

/** Where a moved box comes to rest, as a step to add, and the lines it then stands at. */
export interface Rest {
  dx: number;
  dy: number;
  /** Positions of the lines, x for those across the roll and y for those along it. */
  x: number | undefined;
  y: number | undefined;
}

export interface SnapPlace {
  /** What the box must stay inside: the film less its margins. */
  film: Box;
  /** Least distance between two pieces. */
  gap: number;
  others: readonly Box[];
}

/** Touching is allowed but rounding is not exact: what snaps stays this much farther away, mm. */
const hair = 0.01;

/** The nearest rest inside the film within `reach` in each direction: at an edge of the film, a gap beside another
 * box, or in line with it. Boxes far off across the roll are of no interest along it. */
export function rest(box: Box, place: SnapPlace, reach: number): Rest {
  const { film, gap, others } = place;
  let [dx, dy] = [reach, reach];
  let [x, y]: [number | undefined, number | undefined] = [undefined, undefined];
  // The hair once more: in line with a piece that touches the edge is over it when rounding errs.
  const within = hair - 1e-6;
  const alongX = (edge: number, line: number, shown = line) => {
    const by = line - edge;
    const inside = box.left + by > film.left + within && box.right + by < film.right - within;
    if (inside && Math.abs(by) < Math.abs(dx)) [dx, x] = [by, shown];
  };
  const alongY = (edge: number, line: number, shown = line) => {
    const by = line - edge;
    const inside = box.bottom + by > film.bottom + within && box.top + by < film.top - within;
    if (inside && Math.abs(by) < Math.abs(dy)) [dy, y] = [by, shown];
  };
  alongX(box.left, film.left + hair, film.left);
  alongX(box.right, film.right - hair, film.right);
  alongY(box.bottom, film.bottom + hair, film.bottom);
  alongY(box.top, film.top - hair, film.top);
  const away = gap + hair;
  for (const other of others) {
    if (other.left > box.right + gap + reach || other.right < box.left - gap - reach) continue;
    if (overlap(box.bottom, box.top, other.bottom, other.top, gap + reach)) {
      alongX(box.left, other.right + away, other.right);
      alongX(box.right, other.left - away, other.left);
    }
    alongX(box.left, other.left);
    alongX(box.right, other.right);
    if (other.bottom > box.top + gap + reach || other.top < box.bottom - gap - reach) continue;
    alongY(box.bottom, other.top + away, other.top);
    alongY(box.top, other.bottom - away, other.bottom);
    alongY(box.bottom, other.bottom);
    alongY(box.top, other.top);
  }
  return {
    dx: x === undefined ? 0 : dx,
    dy: y === undefined ? 0 : dy,
    x,
    y,
  };
}

/** How far a box that is carried by (dx, dy) goes: no farther out than the film's edge, or than it
 * already is. A box as wide as the film has no way across. */
export function kept(box: Box, dx: number, dy: number, film: Box): { dx: number; dy: number } {
  return {
    dx: keptWay(box.left, box.right, dx, film.left, film.right),
    dy: keptWay(box.bottom, box.top, dy, film.bottom, film.top),
  };
}

function keptWay(low: number, high: number, way: number, least: number, most: number): number {
  const [back, forth] = [least + hair - low, most - hair - high];
  return Math.min(Math.max(way, Math.min(back, 0)), Math.max(forth, 0));
}

const overlap = (a0: number, a1: number, b0: number, b1: number, near: number) =>
  a0 < b1 + near && b0 < a1 + near;

/** The turn that is allowed and nearest, in degrees; a step of `free` where all are allowed. */
export function nearestTurn(turn: number, allowed: readonly number[], free: number): number {
  if (allowed.length === 0) return normal(Math.round(turn / free) * free);
  const away = (other: number) => Math.abs(((other - turn + 540) % 360) - 180);
  return allowed.reduce((best, one) => (away(one) < away(best) ? one : best));
}

/** The next turn that is allowed, counter-clockwise (+1) or clockwise (-1). */
export function nextTurn(
  turn: number,
  allowed: readonly number[],
  way: 1 | -1,
  free: number,
): number {
  if (allowed.length === 0) return normal((Math.round(turn / free) + way) * free);
  const ordered = [...allowed].sort((a, b) => a - b);
  const at = ordered.indexOf(nearestTurn(turn, ordered, free));
  return ordered[(at + way + ordered.length) % ordered.length] ?? turn;
}

/** The same turn in [0, 360). */
export const normal = (turn: number) => ((turn % 360) + 360) % 360;
