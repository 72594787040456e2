import type { Piece } from "@/api/client";
import { asRing, type Ring } from "@/geometry/view";

export interface PieceRings {
  cut: Ring[];
  fold: Ring[];
  slits: Ring[];
}

export const ringsOf = (piece: Piece): PieceRings => ({
  cut: [piece.cut.outer, ...piece.cut.holes].map(asRing),
  fold: [piece.fold.outer, ...piece.fold.holes].map(asRing),
  slits: piece.slits.map(asRing),
});
