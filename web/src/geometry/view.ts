/** Points in film space (mm, y up) and on the screen (CSS pixels, y down) do not mix. */
export interface FilmPoint {
  readonly space: "film";
  x: number;
  y: number;
}
export interface ScreenPoint {
  readonly space: "screen";
  x: number;
  y: number;
}

export const filmPoint = (x: number, y: number): FilmPoint => ({ space: "film", x, y });
export const screenPoint = (x: number, y: number): ScreenPoint => ({ space: "screen", x, y });

export interface Box {
  left: number;
  bottom: number;
  right: number;
  top: number;
}

export type Ring = readonly (readonly [number, number])[];

export function boxOf(rings: readonly Ring[]): Box {
  const box = { left: Infinity, bottom: Infinity, right: -Infinity, top: -Infinity };
  for (const ring of rings)
    for (const [x, y] of ring) {
      box.left = Math.min(box.left, x);
      box.right = Math.max(box.right, x);
      box.bottom = Math.min(box.bottom, y);
      box.top = Math.max(box.top, y);
    }
  return box;
}

export const widthOf = (box: Box) => box.right - box.left;
export const heightOf = (box: Box) => box.top - box.bottom;

/** What part of film space a picture shows: the film point at its centre and pixels per mm. */
export interface View {
  x: number;
  y: number;
  scale: number;
}

export interface Size {
  width: number;
  height: number;
}

/** The view that shows the whole box in a picture of this size, with a margin in pixels. */
export function fit(box: Box, size: Size, margin: number): View {
  const scale = Math.min(
    (size.width - 2 * margin) / Math.max(widthOf(box), 1e-9),
    (size.height - 2 * margin) / Math.max(heightOf(box), 1e-9),
  );
  return {
    x: (box.left + box.right) / 2,
    y: (box.bottom + box.top) / 2,
    scale: Math.max(scale, 1e-6),
  };
}

export const toScreen = (point: FilmPoint, view: View, size: Size): ScreenPoint =>
  screenPoint(
    size.width / 2 + (point.x - view.x) * view.scale,
    size.height / 2 - (point.y - view.y) * view.scale,
  );

export const toFilm = (point: ScreenPoint, view: View, size: Size): FilmPoint =>
  filmPoint(
    view.x + (point.x - size.width / 2) / view.scale,
    view.y - (point.y - size.height / 2) / view.scale,
  );

/** The same view, nearer or farther, with the film under `at` staying where it is. */
export function zoomAt(view: View, at: ScreenPoint, size: Size, factor: number): View {
  const fixed = toFilm(at, view, size);
  const scale = view.scale * factor;
  return {
    x: fixed.x - (at.x - size.width / 2) / scale,
    y: fixed.y + (at.y - size.height / 2) / scale,
    scale,
  };
}

/** Index of the triangle of a flat mesh that holds the point, or -1. */
export function triangleAt(
  point: FilmPoint,
  flat: Ring,
  triangles: readonly (readonly [number, number, number])[],
): number {
  return triangles.findIndex(([a, b, c]) => {
    const [p, q, r] = [flat[a], flat[b], flat[c]];
    return p && q && r && holds(p, q, r, point);
  });
}

type Corner = readonly [number, number];

function holds(a: Corner, b: Corner, c: Corner, point: FilmPoint): boolean {
  const side = (p: Corner, q: Corner) =>
    (q[0] - p[0]) * (point.y - p[1]) - (q[1] - p[1]) * (point.x - p[0]);
  const [first, second, third] = [side(a, b), side(b, c), side(c, a)];
  return (first >= 0 && second >= 0 && third >= 0) || (first <= 0 && second <= 0 && third <= 0);
}

/** SVG path data of closed rings, in film space. */
export const pathOf = (rings: readonly Ring[]): string =>
  rings
    .filter((ring) => ring.length > 1)
    .map((ring) => `M${ring.map(([x, y]) => `${round(x)} ${round(y)}`).join("L")}Z`)
    .join("");

const round = (value: number) => Math.round(value * 100) / 100;

/** Points as the server writes them. */
export const asRing = (points: readonly number[][]): Ring =>
  points.map((point) => [point[0] ?? 0, point[1] ?? 0] as const);
