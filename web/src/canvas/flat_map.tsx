import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef } from "react";
import {
  boxOf,
  filmPoint,
  fit,
  heightOf,
  type Ring,
  type Size,
  screenPoint,
  toFilm,
  toScreen,
  triangleAt,
  type View,
  widthOf,
} from "@/geometry/view";
import { markColours } from "./marks";
import { penOn, token, trace } from "./pen";
import { type Rgb, toCss } from "./ramp";
import { keepDrawing, type Pen } from "./svg_pen";
import { useSize } from "./use_size";
import classes from "./canvas.module.css";

interface FlatMapProps {
  label: string;
  flat: Ring;
  triangles: readonly (readonly [number, number, number])[];
  colours: readonly Rgb[];
  /** What the knife cuts, and slits from its edge inwards. */
  cut: readonly Ring[];
  slits: readonly Ring[];
  /** Where film will not lie down: crests of folds, and triangles stretched past their limit. */
  fingers: readonly Ring[];
  overstretched: readonly number[];
  /** How the film is laid, drawn over the strain. */
  laying: LayingMarks;
  /** Width of the roll, drawn across the piece when it comes near it. */
  roll: { width: number; words: string } | undefined;
  triangle: number | undefined;
  onTriangle: (triangle: number | undefined) => void;
  /** Redraws when the colours of the page change. */
  dark: boolean;
}

/** What is drawn for the installer: lines and points on the film. */
export interface LayingMarks {
  relief: readonly Ring[];
  seams: readonly Ring[];
  slack: readonly Ring[];
  anchors: readonly (readonly [number, number])[];
  /** From the anchor to where the hand is, in order; `back`: film left over, not pulled. */
  pulls: readonly {
    from: readonly [number, number];
    to: readonly [number, number];
    back: boolean;
  }[];
}

const nearRoll = 0.55; // share of the roll's width from which the roll is worth drawing

const arrowLength = 26; // pixels

function drawLaying(pen: Pen, laying: LayingMarks, view: View, size: Size) {
  const lines = (rings: readonly Ring[], colour: string, width: number, dash: number[]) => {
    for (const [stroke, broad] of [
      ["#ffffff", width + 2],
      [colour, width],
    ] as const) {
      pen.strokeStyle = stroke;
      pen.lineWidth = broad;
      pen.setLineDash(dash);
      pen.beginPath();
      for (const ring of rings) trace(pen, ring, view, size, "open");
      pen.stroke();
    }
    pen.setLineDash([]);
  };
  lines(laying.slack, markColours.slack, 1.4, [6, 4]);
  lines(laying.relief, markColours.relief, 2.2, []);
  lines(laying.seams, markColours.seam, 2.4, [10, 4]);
  for (const [x, y] of laying.anchors) {
    const at = toScreen(filmPoint(x, y), view, size);
    pen.beginPath();
    pen.arc(at.x, at.y, 6, 0, 2 * Math.PI);
    pen.fillStyle = "#101414";
    pen.fill();
    pen.strokeStyle = "#ffffff";
    pen.lineWidth = 2;
    pen.stroke();
  }
  laying.pulls.forEach((pull, index) => {
    const to = toScreen(filmPoint(...pull.to), view, size);
    const from = toScreen(filmPoint(...pull.from), view, size);
    const far = Math.hypot(to.x - from.x, to.y - from.y) || 1;
    const way = { x: (to.x - from.x) / far, y: (to.y - from.y) / far };
    const tip = { x: to.x + way.x * arrowLength, y: to.y + way.y * arrowLength };
    drawArrow(pen, to, tip, way, pull.back ? markColours.back : markColours.pull);
    pen.font = "600 12px 'Archivo Variable', sans-serif";
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    const at = { x: to.x - way.x * 12, y: to.y - way.y * 12 };
    pen.strokeStyle = "#ffffff";
    pen.lineWidth = 3;
    pen.strokeText(String(index + 1), at.x, at.y);
    pen.fillStyle = "#101414";
    pen.fillText(String(index + 1), at.x, at.y);
  });
  pen.textAlign = "start";
  pen.textBaseline = "alphabetic";
}

const ringOf = (corners: readonly number[], flat: Ring): Ring =>
  corners.map((vertex) => flat[vertex] ?? ([0, 0] as const));

function drawRoll(
  pen: Pen,
  words: string,
  band: { bottom: number; top: number },
  view: View,
  size: Size,
) {
  const top = toScreen(filmPoint(0, band.top), view, size).y;
  const bottom = toScreen(filmPoint(0, band.bottom), view, size).y;
  pen.fillStyle = token("--well");
  pen.fillRect(0, top, size.width, bottom - top);
  pen.strokeStyle = token("--rule-strong");
  pen.lineWidth = 1;
  pen.setLineDash([5, 4]);
  pen.beginPath();
  for (const y of [top, bottom]) {
    pen.moveTo(0, y);
    pen.lineTo(size.width, y);
  }
  pen.stroke();
  pen.setLineDash([]);
  pen.fillStyle = token("--ink-soft");
  pen.font = "12px 'Archivo Variable', sans-serif";
  pen.fillText(words, 6, top - 6);
}

/** Folds as they would stand: a dark line with a pale one on it, for film is squeezed there. */
function drawFingers(pen: Pen, fingers: readonly Ring[], view: View, size: Size) {
  for (const [colour, width] of [
    [markColours.fold, 3.8],
    [markColours.finger, 1.8],
  ] as const) {
    pen.strokeStyle = colour;
    pen.lineWidth = width;
    pen.beginPath();
    for (const finger of fingers) trace(pen, finger, view, size, "open");
    pen.stroke();
  }
}

const hatchStep = 5; // pixels

/** Slanting lines across a part of the film. */
function drawHatch(pen: Pen, ring: Ring, view: View, size: Size) {
  const corners = ring.map(([x, y]) => toScreen(filmPoint(x, y), view, size));
  const along = ({ x, y }: Pixel) => (x + y) / hatchStep;
  const sums = corners.map(along);
  pen.strokeStyle = "#101414";
  pen.lineWidth = 1;
  pen.beginPath();
  for (let line = Math.ceil(Math.min(...sums)); line <= Math.max(...sums); line++) {
    const ends = corners.flatMap((from, index): Pixel[] => {
      const to = corners[(index + 1) % corners.length] ?? from;
      const [a, b] = [along(from), along(to)];
      if (a < line === b < line) return [];
      const t = (line - a) / (b - a);
      return [{ x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) }];
    });
    const [from, to] = ends;
    if (!from || !to) continue;
    pen.moveTo(from.x, from.y);
    pen.lineTo(to.x, to.y);
  }
  pen.stroke();
}

interface Pixel {
  x: number;
  y: number;
}

function drawArrow(pen: Pen, from: Pixel, tip: Pixel, way: Pixel, colour: string) {
  const head = 8;
  for (const [stroke, width] of [
    ["#ffffff", 5],
    [colour, 2.4],
  ] as const) {
    pen.strokeStyle = stroke;
    pen.lineWidth = width;
    pen.beginPath();
    pen.moveTo(from.x, from.y);
    pen.lineTo(tip.x, tip.y);
    for (const side of [1, -1]) {
      pen.moveTo(tip.x, tip.y);
      pen.lineTo(
        tip.x - head * (way.x - side * 0.6 * way.y),
        tip.y - head * (way.y + side * 0.6 * way.x),
      );
    }
    pen.stroke();
  }
}

const ways: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
const keySteps = 40; // from one side of the piece to the other

const middleOf = (corners: readonly number[], flat: Ring): [number, number] =>
  ringOf(corners, flat).reduce<[number, number]>(
    ([x, y], corner) => [x + corner[0] / corners.length, y + corner[1] / corners.length],
    [0, 0],
  );

/** The flat piece with a colour to each triangle; pointing at it names the triangle, and so do the
 * arrow keys. */
export function FlatMap(props: FlatMapProps) {
  const { flat, triangles, colours, cut, slits, laying, roll, triangle, dark } = props;
  const { fingers, overstretched } = props;
  const holder = useRef<HTMLDivElement>(null);
  const ground = useRef<HTMLCanvasElement>(null);
  const overlay = useRef<HTMLCanvasElement>(null);
  const size = useSize(holder);

  const { view, band } = useMemo(() => {
    const box = boxOf([flat, ...cut, ...laying.slack]);
    const middle = (box.bottom + box.top) / 2;
    const near = roll && heightOf(box) > nearRoll * roll.width;
    const band = near
      ? { bottom: middle - roll.width / 2, top: middle + roll.width / 2 }
      : undefined;
    const whole = band
      ? { ...box, bottom: Math.min(box.bottom, band.bottom), top: Math.max(box.top, band.top) }
      : box;
    const room = laying.pulls.length > 0 ? arrowLength + 14 : 12;
    return { view: fit(whole, size, band ? Math.max(22, room) : room), band };
  }, [flat, cut, laying, roll, size]);

  useEffect(() => {
    const pen = ground.current && penOn(ground.current, size);
    if (!ground.current || !pen || size.width === 0) return;
    const draw = (on: Pen) => {
      if (band && roll) drawRoll(on, roll.words, band, view, size);
      triangles.forEach((corners, index) => {
        on.beginPath();
        trace(on, ringOf(corners, flat), view, size, "closed");
        on.fillStyle = on.strokeStyle = toCss(colours[index] ?? [1, 1, 1]);
        on.lineWidth = 0.6;
        on.fill();
        on.stroke();
      });
      for (const index of overstretched)
        drawHatch(on, ringOf(triangles[index] ?? [], flat), view, size);
      on.strokeStyle = token("--ink");
      on.lineWidth = 1.3;
      on.lineJoin = "round";
      on.beginPath();
      for (const ring of cut) trace(on, ring, view, size, "closed");
      for (const slit of slits) trace(on, slit, view, size, "open");
      on.stroke();
      drawFingers(on, fingers, view, size);
      drawLaying(on, laying, view, size);
    };
    draw(pen);
    keepDrawing(ground.current, draw);
  }, [
    flat,
    triangles,
    colours,
    cut,
    slits,
    fingers,
    overstretched,
    laying,
    roll,
    band,
    view,
    size,
    dark,
  ]);

  useEffect(() => {
    const pen = overlay.current && penOn(overlay.current, size);
    const corners = triangle === undefined ? undefined : triangles[triangle];
    if (!pen || !corners) return;
    const at = toScreen(filmPoint(...middleOf(corners, flat)), view, size);
    for (const [colour, width] of [
      ["#ffffff", 4],
      ["#101414", 2],
    ] as const) {
      pen.strokeStyle = colour;
      pen.lineWidth = width;
      pen.beginPath();
      pen.arc(at.x, at.y, 7, 0, 2 * Math.PI);
      pen.stroke();
    }
  }, [triangle, flat, triangles, view, size]);

  const point = (event: PointerEvent<HTMLDivElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const at = screenPoint(event.clientX - box.left, event.clientY - box.top);
    const found = triangleAt(toFilm(at, view, size), flat, triangles);
    props.onTriangle(found < 0 ? undefined : found);
  };

  const press = (event: KeyboardEvent<HTMLDivElement>) => {
    const way = ways[event.key];
    if (!way) return;
    event.preventDefault();
    const from = triangle === undefined ? undefined : middleOf(triangles[triangle] ?? [], flat);
    const box = boxOf([flat]);
    const [x, y] = from ?? [(box.left + box.right) / 2, (box.bottom + box.top) / 2];
    const step = Math.max(widthOf(box), heightOf(box)) / keySteps;
    for (let far = from ? 1 : 0; far < keySteps; far++) {
      const at = filmPoint(x + way[0] * far * step, y + way[1] * far * step);
      const found = triangleAt(at, flat, triangles);
      if (found >= 0 && found !== triangle) return props.onTriangle(found);
    }
  };

  return (
    <div
      ref={holder}
      className={classes.holder}
      role="img"
      aria-label={props.label}
      tabIndex={0}
      onKeyDown={press}
      onPointerMove={point}
      onPointerLeave={() => props.onTriangle(undefined)}
    >
      <canvas ref={ground} className={classes.fill} />
      <canvas ref={overlay} className={`${classes.fill} ${classes.overlay}`} />
    </div>
  );
}
