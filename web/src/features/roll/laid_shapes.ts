import type { JobPiece, Layout, LiveLayout, Placement } from "@/api/client";
import type { LaidShape } from "@/canvas/roll_picture";
import { asRing, type Ring } from "@/geometry/view";

export const keyOf = ({ piece, copy }: { piece: string; copy: number }) => `${piece} ${copy}`;

export type PieceShapes = ReadonlyMap<string, Pick<LaidShape, "name" | "zone" | "rings">>;

/** The pieces of a kept layout as they were before turn and move. Windows are laid mirrored, so
 * only the layout itself knows the outlines that lie on the roll. */
export const laidPieces = (layout: Layout): PieceShapes =>
  new Map(
    layout.placements.map((laid) => [
      laid.piece,
      {
        name: laid.name,
        zone: laid.zone,
        rings: [laid.outline.outer, ...laid.outline.holes].map((ring) =>
          takenBack(asRing(ring), laid),
        ),
      },
    ]),
  );

function takenBack(ring: Ring, { turn_deg, x_mm, y_mm }: Placement): Ring {
  const turn = (-turn_deg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return ring.map(([px, py]) => {
    const [x, y] = [px - x_mm, py - y_mm];
    return [c * x - s * y, s * x + c * y] as const;
  });
}

export const pieceShapes = (pieces: readonly JobPiece[]): PieceShapes =>
  new Map(
    pieces.map(({ piece }) => [
      piece.id,
      {
        name: piece.name,
        zone: piece.zone,
        rings: [piece.cut.outer, ...piece.cut.holes].map(asRing),
      },
    ]),
  );

/** Pieces, turned and moved. */
export const placedShapes = (placements: readonly Placement[], pieces: PieceShapes): LaidShape[] =>
  placements.flatMap((laid) => {
    const shape = pieces.get(laid.piece);
    if (!shape) return [];
    return [{ ...shape, key: keyOf(laid), turn: laid.turn_deg, x: laid.x_mm, y: laid.y_mm }];
  });

/** A layout that is still being searched. */
export const liveShapes = (layout: LiveLayout, pieces: PieceShapes): LaidShape[] =>
  placedShapes(layout.placements, pieces);
