import { memo } from "react";
import { boxOf, heightOf, pathOf, type Ring, widthOf } from "@/geometry/view";
import classes from "./canvas.module.css";

interface PieceDrawingProps {
  label: string;
  cut: readonly Ring[];
  fold: readonly Ring[];
  slits: readonly Ring[];
  stretches?: readonly { name: string; path: Ring }[];
  picked?: string | undefined;
  onPick?: ((stretch: string) => void) | undefined;
}

const margin = 0.03; // of the longer side, for the line itself

/** A flat piece: film inside the cut line, the panel's own edge dashed. Fills its holder. */
export const PieceDrawing = memo(function PieceDrawing(props: PieceDrawingProps) {
  const { cut, fold, slits, label, stretches = [], picked, onPick } = props;
  const box = boxOf(cut);
  const pad = margin * Math.max(widthOf(box), heightOf(box));
  return (
    <svg
      className={classes.drawing}
      viewBox={`${box.left - pad} ${-box.top - pad} ${widthOf(box) + 2 * pad} ${heightOf(box) + 2 * pad}`}
      role="img"
      aria-label={label}
    >
      <g transform="scale(1,-1)">
        <path d={pathOf(cut)} className={classes.cutLine} />
        <path d={pathOf(fold)} className={classes.foldLine} />
        {slits.map((slit, index) => (
          <path key={index} d={pathOf([slit]).replace("Z", "")} className={classes.slit} />
        ))}
        {stretches.map(({ name, path }) => (
          <path
            key={name}
            d={pathOf([path]).replace("Z", "")}
            className={classes.stretch}
            data-picked={name === picked || undefined}
            data-open={onPick !== undefined || undefined}
            onClick={onPick && (() => onPick(name))}
          >
            <title>{name}</title>
          </path>
        ))}
      </g>
    </svg>
  );
});
