import { useMemo } from "react";
import type { LayingMarks } from "@/canvas/flat_map";
import { boxOf, heightOf, pathOf, type Ring, widthOf } from "@/geometry/view";
import classes from "./card.module.css";

interface DrawingProps {
  label: string;
  cut: readonly Ring[];
  fold: readonly Ring[];
  slits: readonly Ring[];
  laying: LayingMarks;
}

const open = (line: Ring) => pathOf([line]).replace("Z", "");

/** The piece with anchors, pulls in their order, relief cuts and seams, large enough to be read at
 * arm's length. */
export function Drawing({ label, cut, fold, slits, laying }: DrawingProps) {
  const box = useMemo(() => boxOf([...cut, ...laying.slack]), [cut, laying.slack]);
  const size = Math.max(widthOf(box), heightOf(box), 1);
  const pad = 0.07 * size;
  const mark = 0.016 * size;
  return (
    <svg
      className={classes.drawing}
      viewBox={`${box.left - pad} ${-box.top - pad} ${widthOf(box) + 2 * pad} ${heightOf(box) + 2 * pad}`}
      role="img"
      aria-label={label}
      data-drawing
    >
      <g transform="scale(1,-1)">
        <path d={pathOf(cut)} className={classes.cut} />
        <path d={pathOf(fold)} className={classes.fold} />
        {slits.map((line, index) => (
          <path key={index} d={open(line)} className={classes.slit} />
        ))}
        {laying.slack.map((line, index) => (
          <path key={index} d={open(line)} className={classes.slack} />
        ))}
        {laying.relief.map((line, index) => (
          <path key={index} d={open(line)} className={classes.relief} />
        ))}
        {laying.seams.map((line, index) => (
          <path key={index} d={open(line)} className={classes.seam} />
        ))}
        {laying.anchors.map(([x, y], index) => (
          <circle key={index} cx={x} cy={y} r={mark} className={classes.anchor} />
        ))}
      </g>
      {laying.pulls.map((pull, index) => {
        const [fx, fy, tx, ty] = [pull.from[0], -pull.from[1], pull.to[0], -pull.to[1]];
        const far = Math.hypot(tx - fx, ty - fy) || 1;
        const [wx, wy] = [(tx - fx) / far, (ty - fy) / far];
        const tip = [tx + wx * 3.2 * mark, ty + wy * 3.2 * mark] as const;
        const wing = (side: number) =>
          `M${tip[0]} ${tip[1]}L${tip[0] - mark * (wx - 0.6 * side * wy)} ${tip[1] - mark * (wy + 0.6 * side * wx)}`;
        return (
          <g key={index} className={classes.pull} data-back={pull.back}>
            <path d={`M${tx} ${ty}L${tip[0]} ${tip[1]}${wing(1)}${wing(-1)}`} />
            <text x={tx - wx * 1.6 * mark} y={ty - wy * 1.6 * mark} fontSize={2.2 * mark}>
              {index + 1}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
