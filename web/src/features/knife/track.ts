import type { Cut } from "@/api/client";

export type PathKind = Cut["segments"][number]["kind"];

/** A point of the knife's way; kind and contour are those of the stretch that ends at it. */
export interface TrackPoint {
  x: number;
  y: number;
  /** From the start, scaled so that the last is the server's own estimate. */
  seconds: number;
  kind: PathKind;
  /** Index into Cut.contours; -1 on the way home. */
  contour: number;
}

export interface Speeds {
  cut: number; // mm/s
  travel: number;
}

/** The knife's whole way as one line with the time at each of its points. */
export function trackOf(cut: Cut, speeds: Speeds): TrackPoint[] {
  const track: TrackPoint[] = [];
  let now = 0;
  let before: { x: number; y: number } | undefined;
  for (const { kind, contour, points } of cut.segments)
    for (const [x = 0, y = 0] of points) {
      if (before)
        now +=
          Math.hypot(x - before.x, y - before.y) / (kind === "travel" ? speeds.travel : speeds.cut);
      before = { x, y };
      track.push({ x, y, seconds: now, kind, contour });
    }
  const scale = now > 0 ? cut.estimated_seconds / now : 0;
  return track.map((point) => ({ ...point, seconds: point.seconds * scale }));
}

export const lengthOf = (track: readonly TrackPoint[]): number => track.at(-1)?.seconds ?? 0;

/** Number of points passed by then: the knife is between the last of them and the next. */
export function passedBy(track: readonly TrackPoint[], seconds: number): number {
  let [low, high] = [0, track.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((track[middle]?.seconds ?? Infinity) <= seconds) low = middle + 1;
    else high = middle;
  }
  return low;
}

export function knifeAt(track: readonly TrackPoint[], seconds: number): { x: number; y: number } {
  const passed = passedBy(track, seconds);
  const next = track[passed];
  const last = track[passed - 1] ?? next ?? { x: 0, y: 0, seconds: 0 };
  if (!next) return { x: last.x, y: last.y };
  const span = next.seconds - last.seconds;
  const share = span > 0 ? (seconds - last.seconds) / span : 0;
  return { x: last.x + share * (next.x - last.x), y: last.y + share * (next.y - last.y) };
}

/** What the knife does then: the stretch it is on, or the last one. */
export const stretchAt = (track: readonly TrackPoint[], seconds: number): TrackPoint | undefined =>
  track[passedBy(track, seconds)] ?? track.at(-1);

/** What the knife works on then, or goes to; -1 on the way home. */
export function contourAt(track: readonly TrackPoint[], seconds: number): number {
  for (let at = passedBy(track, seconds); at < track.length; at++) {
    const contour = track[at]?.contour ?? -1;
    if (contour >= 0) return contour;
  }
  return -1;
}

/** Neighbours in the order that are one thing to a person: the slits of one piece. */
export interface Step {
  piece: string;
  kind: Cut["contours"][number]["kind"];
  first: number; // index into Cut.contours
  count: number;
}

export function stepsOf(contours: Cut["contours"]): Step[] {
  const steps: Step[] = [];
  contours.forEach(({ piece, kind }, index) => {
    const last = steps.at(-1);
    if (last?.kind === "slit" && kind === "slit" && last.piece === piece) last.count++;
    else steps.push({ piece, kind, first: index, count: 1 });
  });
  return steps;
}

/** The step that a contour belongs to, or -1. */
export const stepOf = (steps: readonly Step[], contour: number): number =>
  contour < 0 ? -1 : steps.findIndex(({ first, count }) => contour < first + count);

/** When and where the knife comes down for each contour. */
export function startsOf(track: readonly TrackPoint[]): Map<number, TrackPoint> {
  const starts = new Map<number, TrackPoint>();
  for (const point of track)
    if (point.kind !== "travel" && point.contour >= 0 && !starts.has(point.contour))
      starts.set(point.contour, point);
  return starts;
}
