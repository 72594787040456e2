import type { Outline } from "@/api/client";
import classes from "./parts.module.css";

export const pathOf = ({ outer, holes }: Outline) =>
  [outer, ...holes]
    .map((ring) => `M${ring.map(([x, y]) => `${x ?? 0} ${y ?? 0}`).join("L")}Z`)
    .join("");

interface OutlinePictureProps {
  label: string;
  outline: Outline;
  /** How many millimetres the picture's width stands for: pictures of one list share it. */
  across: number;
  gone?: readonly Outline[];
  piece?: Outline;
}

/** A sheet of film drawn to scale: what of it is no film, and a piece that lies on it. */
export function OutlinePicture({ label, outline, across, gone, piece }: OutlinePictureProps) {
  const xs = outline.outer.map(([x]) => x ?? 0);
  const ys = outline.outer.map(([, y]) => y ?? 0);
  const length = Math.max(...xs);
  const width = Math.max(...ys);
  return (
    <svg
      role="img"
      aria-label={label}
      className={classes.outline}
      viewBox={`0 0 ${length} ${width}`}
      style={{ width: `${(100 * length) / across}%` }}
    >
      <g transform={`matrix(1 0 0 -1 0 ${width})`}>
        <path className={classes.outlineFilm} d={pathOf(outline)} />
        {gone?.map((part, i) => (
          <path key={i} className={classes.outlineGone} d={pathOf(part)} />
        ))}
        {piece && <path className={classes.outlinePiece} d={pathOf(piece)} />}
      </g>
    </svg>
  );
}
