import type { JobPiece, Layout, LiveLayout } from "@/api/client";
import type { LaidShape } from "@/canvas/roll_picture";
import { asRing } from "@/geometry/view";

const keyOf = (piece: string, copy: number) => `${piece} ${copy}`;

/** The kept layout, where the server's check saw it. */
export const keptShapes = (layout: Layout): LaidShape[] =>
  layout.placements.map((laid) => ({
    key: keyOf(laid.piece, laid.copy),
    name: laid.name,
    zone: laid.zone,
    rings: [laid.outline.outer, ...laid.outline.holes].map(asRing),
    turn: 0,
    x: 0,
    y: 0,
  }));

export type PieceShapes = ReadonlyMap<string, Pick<LaidShape, "name" | "zone" | "rings">>;

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

/** A layout that is still being searched: the pieces themselves, turned and moved. */
export const liveShapes = (layout: LiveLayout, pieces: PieceShapes): LaidShape[] =>
  layout.placements.flatMap((laid) => {
    const shape = pieces.get(laid.piece);
    if (!shape) return [];
    return [
      {
        ...shape,
        key: keyOf(laid.piece, laid.copy),
        turn: laid.turn_deg,
        x: laid.x_mm,
        y: laid.y_mm,
      },
    ];
  });
