import { memo, useMemo } from "react";
import type { LaidShape } from "@/canvas/roll_picture";
import { placedBox } from "@/canvas/roll_picture";
import { shownBox } from "@/canvas/use_view";
import { zoneFill } from "@/canvas/zones";
import { heightOf, pathOf, type Size, type View, widthOf } from "@/geometry/view";
import classes from "./roll.module.css";

interface OverlayProps {
  view: View;
  size: Size;
  carried: LaidShape | undefined;
  /** Lines at which the carried piece has come to rest. */
  lines: { x: number | undefined; y: number | undefined };
  clashing: readonly LaidShape[];
  locked: readonly LaidShape[];
}

/** What changes while a hand moves, on a layer of its own: the picture below is not drawn again. */
export function TableOverlay({ view, size, carried, lines, clashing, locked }: OverlayProps) {
  const box = shownBox(view, size);
  return (
    <svg
      className={classes.overlay}
      viewBox={`${box.left} ${-box.top} ${Math.max(widthOf(box), 1)} ${Math.max(heightOf(box), 1)}`}
      aria-hidden="true"
      data-layer
    >
      <defs>
        <pattern
          id="clash-hatch"
          width={9 / view.scale}
          height={9 / view.scale}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path
            d={`M0 0V${9 / view.scale}`}
            className={classes.hatch}
            strokeWidth={4 / view.scale}
          />
        </pattern>
      </defs>
      <g transform="scale(1,-1)">
        {carried && <Outline shape={carried} className={classes.carried} filled />}
        {clashing.map((shape) => (
          <Outline key={shape.key} shape={shape} className={classes.clash} />
        ))}
        {lines.x !== undefined && (
          <path d={`M${lines.x} ${box.bottom}V${box.top}`} className={classes.line} />
        )}
        {lines.y !== undefined && (
          <path d={`M${box.left} ${lines.y}H${box.right}`} className={classes.line} />
        )}
      </g>
      {locked.map((shape) => (
        <Lock key={shape.key} shape={shape} scale={view.scale} />
      ))}
    </svg>
  );
}

const Outline = memo(function Outline({
  shape,
  className,
  filled = false,
}: {
  shape: LaidShape;
  className: string | undefined;
  filled?: boolean;
}) {
  const path = useMemo(() => pathOf(shape.rings), [shape.rings]);
  return (
    <path
      d={path}
      className={className}
      style={filled ? { fill: zoneFill(shape.zone) } : undefined}
      transform={`translate(${shape.x} ${shape.y}) rotate(${shape.turn})`}
    />
  );
});

/** A padlock at the upper left of the piece's box. */
function Lock({ shape, scale }: { shape: LaidShape; scale: number }) {
  const box = placedBox(shape);
  return (
    <g
      transform={`translate(${box.left} ${-box.top}) scale(${1 / scale}) translate(5 5)`}
      className={classes.padlock}
    >
      <rect x={0} y={7} width={14} height={10} rx={2} />
      <path d="M3 7V4.5a4 4 0 0 1 8 0V7" />
    </g>
  );
}
