import { useEffect, useRef } from "react";
import { penOn, token } from "@/canvas/pen";
import { keepDrawing, type Pen } from "@/canvas/svg_pen";
import { filmPoint, type Size, toScreen, type View } from "@/geometry/view";
import { knifeAt, passedBy, startsOf, type Step, stretchAt, type TrackPoint } from "./track";
import classes from "./knife.module.css";

interface PathOverlayProps {
  track: readonly TrackPoint[];
  steps: readonly Step[];
  seconds: number;
  numbers: boolean;
  view: View;
  size: Size;
  dark: boolean;
}

/** The path in two layers: where the knife will go, and over it where it has been. */
export function PathOverlay({
  track,
  steps,
  seconds,
  numbers,
  view,
  size,
  dark,
}: PathOverlayProps) {
  const ground = useRef<HTMLCanvasElement>(null);
  const front = useRef<HTMLCanvasElement>(null);

  useEffect(() => {
    const pen = ground.current && penOn(ground.current, size);
    if (!ground.current || !pen) return;
    const draw = (on: Pen) => {
      drawPath(on, track, track.length, view, size, {
        cut: { colour: token("--ink-soft"), width: 0.8 },
        travel: { colour: token("--knife-up"), width: 1 },
      });
      if (numbers) drawStarts(on, track, steps, view, size);
    };
    draw(pen);
    keepDrawing(ground.current, draw);
  }, [track, steps, numbers, view, size, dark]);

  useEffect(() => {
    const pen = front.current && penOn(front.current, size);
    if (!front.current || !pen) return;
    const draw = (on: Pen) => {
      const passed = passedBy(track, seconds);
      drawPath(on, track, passed, view, size, {
        cut: { colour: token("--accent"), width: 2.6 },
      });
      const knife = knifeAt(track, seconds);
      const at = toScreen(filmPoint(knife.x, knife.y), view, size);
      const last = track[passed - 1] ?? knife;
      const from = toScreen(filmPoint(last.x, last.y), view, size);
      const up = stretchAt(track, seconds)?.kind === "travel";
      on.strokeStyle = up ? token("--knife-up") : token("--accent");
      on.lineWidth = 2.6;
      on.beginPath();
      on.moveTo(from.x, from.y);
      on.lineTo(at.x, at.y);
      on.stroke();
      on.beginPath();
      on.arc(at.x, at.y, 6, 0, 2 * Math.PI);
      on.fillStyle = up ? token("--sheet") : token("--accent");
      on.strokeStyle = token("--ink");
      on.lineWidth = 2;
      on.fill();
      on.stroke();
    };
    draw(pen);
    keepDrawing(front.current, draw);
  }, [track, seconds, view, size, dark]);

  return (
    <>
      <canvas ref={ground} className={classes.layer} />
      <canvas ref={front} className={classes.layer} />
    </>
  );
}

interface Stroke {
  colour: string;
  width: number;
}

function drawPath(
  pen: Pen,
  track: readonly TrackPoint[],
  count: number,
  view: View,
  size: Size,
  strokes: { cut: Stroke; travel?: Stroke },
) {
  for (const [up, stroke] of [
    [true, strokes.travel],
    [false, strokes.cut],
  ] as const) {
    if (!stroke) continue;
    pen.strokeStyle = stroke.colour;
    pen.lineWidth = stroke.width;
    pen.lineJoin = "round";
    pen.setLineDash(up ? [2, 4] : []);
    pen.beginPath();
    let before: TrackPoint | undefined;
    let open = false;
    for (const point of track.slice(0, count)) {
      const mine = before !== undefined && (point.kind === "travel") === up;
      if (mine && before) {
        const start = toScreen(filmPoint(before.x, before.y), view, size);
        const end = toScreen(filmPoint(point.x, point.y), view, size);
        if (!open) pen.moveTo(start.x, start.y);
        pen.lineTo(end.x, end.y);
      }
      open = mine;
      before = point;
    }
    pen.stroke();
  }
  pen.setLineDash([]);
}

const letterPixels = 12;
const digitPixels = 7.2; // width of a tabular numeral of that height

/** At each start its number in the order, and an arrow the way the knife sets off. */
function drawStarts(
  pen: Pen,
  track: readonly TrackPoint[],
  steps: readonly Step[],
  view: View,
  size: Size,
) {
  pen.font = `600 ${letterPixels}px 'Archivo Variable', sans-serif`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  const taken: { x: number; y: number }[] = [];
  const starts = startsOf(track);
  for (const [index, { kind, first }] of steps.entries()) {
    const start = starts.get(first);
    if (!start || kind === "slit") continue; // a slit is too short to carry a number
    const at = toScreen(filmPoint(start.x, start.y), view, size);
    if (at.x < -20 || at.y < -20 || at.x > size.width + 20 || at.y > size.height + 20) continue;
    drawArrow(pen, track, start.seconds, at, view, size);
    if (taken.some((other) => Math.hypot(other.x - at.x, other.y - at.y) < 20)) continue;
    taken.push(at);
    const text = String(index + 1);
    const half = (digitPixels * text.length) / 2 + 4;
    pen.fillStyle = token("--sheet");
    pen.strokeStyle = token("--rule-strong");
    pen.lineWidth = 1;
    pen.beginPath();
    pen.moveTo(at.x - half, at.y - 21);
    pen.lineTo(at.x + half, at.y - 21);
    pen.lineTo(at.x + half, at.y - 5);
    pen.lineTo(at.x - half, at.y - 5);
    pen.closePath();
    pen.fill();
    pen.stroke();
    pen.fillStyle = token("--ink");
    pen.fillText(text, at.x, at.y - 12.5);
  }
}

function drawArrow(
  pen: Pen,
  track: readonly TrackPoint[],
  seconds: number,
  at: { x: number; y: number },
  view: View,
  size: Size,
) {
  const ahead = knifeAt(track, seconds + 12 / Math.max(view.scale, 1e-6) / 1000 + 0.05);
  const to = toScreen(filmPoint(ahead.x, ahead.y), view, size);
  const far = Math.hypot(to.x - at.x, to.y - at.y) || 1;
  const way = { x: (to.x - at.x) / far, y: (to.y - at.y) / far };
  pen.fillStyle = token("--ink");
  pen.beginPath();
  pen.moveTo(at.x + 9 * way.x, at.y + 9 * way.y);
  pen.lineTo(at.x - 4 * way.y, at.y + 4 * way.x);
  pen.lineTo(at.x + 4 * way.y, at.y - 4 * way.x);
  pen.fill();
}
