import { memo, useMemo } from "react";
import type { JobPiece } from "@/api/client";
import { PieceDrawing } from "@/canvas/piece_drawing";
import { boxOf, heightOf, widthOf } from "@/geometry/view";
import { useReader } from "@/words/preferences";
import { ringsOf } from "./rings";
import classes from "./pieces.module.css";

interface PieceCardProps {
  piece: JobPiece;
  picked: boolean;
  onPick: () => void;
}

export const PieceCard = memo(function PieceCard({ piece: one, picked, onPick }: PieceCardProps) {
  const { words, format } = useReader();
  const { piece, method } = one;
  const rings = useMemo(() => ringsOf(piece), [piece]);
  const box = boxOf(rings.cut);
  return (
    <button type="button" className={classes.card} aria-pressed={picked} onClick={onPick}>
      <span className={classes.drawing}>
        <PieceDrawing label={piece.name} {...rings} />
      </span>
      <span className={classes.name}>{piece.name}</span>
      <span className={classes.facts}>
        <span>{format.size(widthOf(box), heightOf(box))}</span>
        <span data-choice={method.choice}>{words.methodsShort[method.choice]}</span>
      </span>
    </button>
  );
});
