import type { Piece } from "@/api/client";
import { asRing, type Ring } from "@/geometry/view";

/** The part of the fold line that each stretch follows, in the order of `edges`. */
export function stretchesOf(piece: Piece): Ring[] {
  const rings = [piece.fold.outer, ...piece.fold.holes].map(asRing);
  return piece.edges.map((edge) => {
    const ring = rings[edge.ring] ?? [];
    const sameRing = piece.edges.filter((other) => other.ring === edge.ring);
    const next = sameRing[(sameRing.indexOf(edge) + 1) % sameRing.length] ?? edge;
    const last = next.first > edge.first ? next.first : next.first + ring.length;
    return Array.from(
      { length: last - edge.first + 1 },
      (_, k) => ring[(edge.first + k) % ring.length] ?? ([0, 0] as const),
    );
  });
}

/** The point half way along a line. */
export function middleOf(line: Ring): readonly [number, number] {
  const steps = line.slice(1).map(([x, y], k) => {
    const [px, py] = line[k] ?? [x, y];
    return Math.hypot(x - px, y - py);
  });
  let left = steps.reduce((sum, step) => sum + step, 0) / 2;
  for (const [k, step] of steps.entries()) {
    const [ax, ay] = line[k] ?? [0, 0];
    const [bx, by] = line[k + 1] ?? [0, 0];
    if (left <= step && step > 0) {
      return [ax + ((bx - ax) * left) / step, ay + ((by - ay) * left) / step];
    }
    left -= step;
  }
  return line[0] ?? [0, 0];
}
