import { memo, type MouseEvent, useMemo } from "react";
import { type Box, boxOf, heightOf, pathOf, type Ring, type View, widthOf } from "@/geometry/view";
import { zoneFill } from "./zones";
import classes from "./canvas.module.css";

/** A piece on the roll: its rings as they are before the turn and the move. */
export interface LaidShape {
  key: string;
  name: string;
  zone: string;
  rings: readonly Ring[];
  turn: number; // degrees, counter-clockwise
  x: number;
  y: number;
  /** Drawn faint while it is carried elsewhere. */
  carried?: boolean;
}

interface RollPictureProps {
  label: string;
  width: number;
  length: number;
  shapes: readonly LaidShape[];
  box: Box;
  picked: string | undefined;
  onPick?: ((key: string | undefined) => void) | undefined;
  /** Pixels per mm, to decide which names can be read; none are written without it. */
  names?: View | undefined;
  children?: React.ReactNode;
}

/** Pieces lying on a roll, x along it to the right, y across it upwards. */
export function RollPicture(props: RollPictureProps) {
  const { box, width, length, shapes, picked, names } = props;
  const pick = (event: MouseEvent<SVGSVGElement>) => {
    const piece = (event.target as Element).closest("[data-key]");
    props.onPick?.(piece?.getAttribute("data-key") ?? undefined);
  };
  return (
    <svg
      className={classes.fill}
      viewBox={`${box.left} ${-box.top} ${Math.max(widthOf(box), 1)} ${Math.max(heightOf(box), 1)}`}
      preserveAspectRatio="xMidYMid meet"
      role="img"
      aria-label={props.label}
      onClick={pick}
    >
      <g transform="scale(1,-1)">
        <rect x={0} y={0} width={Math.max(length, 0)} height={width} className={classes.film} />
        {shapes.map((shape) => (
          <Shape key={shape.key} shape={shape} picked={shape.key === picked} />
        ))}
        <path d={`M${length} 0V${width}`} className={classes.filmEnd} />
        {props.children}
      </g>
      {names && <Names shapes={shapes} scale={names.scale} picked={picked} />}
    </svg>
  );
}

const Shape = memo(function Shape({ shape, picked }: { shape: LaidShape; picked: boolean }) {
  const path = useMemo(() => pathOf(shape.rings), [shape.rings]);
  return (
    <path
      data-key={shape.key}
      data-picked={picked}
      data-carried={shape.carried}
      d={path}
      className={classes.piece}
      style={{ fill: zoneFill(shape.zone) }}
      transform={`translate(${shape.x} ${shape.y}) rotate(${shape.turn})`}
    >
      <title>{shape.name}</title>
    </path>
  );
});

const letterPixels = 12.5;

const Names = memo(function Names({
  shapes,
  scale,
  picked,
}: {
  shapes: readonly LaidShape[];
  scale: number;
  picked: string | undefined;
}) {
  const boxes = useMemo(
    () => new Map(shapes.map((shape) => [shape.key, placedBox(shape)])),
    [shapes],
  );
  const letter = letterPixels / scale;
  return shapes.map((shape) => {
    const box = boxes.get(shape.key);
    if (!box) return null;
    const needed = shape.name.length * letter * 0.55;
    const along = widthOf(box) > needed;
    const across = heightOf(box) > needed;
    const thin = Math.min(widthOf(box), heightOf(box)) < letter * 1.5;
    if (thin || (!along && !across)) return null;
    const [x, y] = [(box.left + box.right) / 2, -(box.bottom + box.top) / 2];
    return (
      <text
        key={shape.key}
        x={x}
        y={y}
        fontSize={letter}
        className={classes.pieceName}
        data-picked={shape.key === picked}
        transform={along ? undefined : `rotate(-90 ${x} ${y})`}
      >
        {shape.name}
      </text>
    );
  });
});

/** The box of a shape where it lies. */
export function placedBox(shape: LaidShape): Box {
  const turn = (shape.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return boxOf([
    (shape.rings[0] ?? []).map(
      ([x, y]) => [shape.x + c * x - s * y, shape.y + s * x + c * y] as const,
    ),
  ]);
}
