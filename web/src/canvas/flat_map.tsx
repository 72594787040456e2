import { type PointerEvent, useEffect, useMemo, useRef } from "react";
import {
  boxOf,
  filmPoint,
  fit,
  heightOf,
  type Ring,
  screenPoint,
  toFilm,
  toScreen,
  triangleAt,
} from "@/geometry/view";
import { penOn, token, trace } from "./pen";
import { type Rgb, toCss } from "./ramp";
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
  /** Width of the roll, drawn across the piece when it comes near it. */
  roll: { width: number; words: string } | undefined;
  triangle: number | undefined;
  onTriangle: (triangle: number | undefined) => void;
  /** Redraws when the colours of the page change. */
  dark: boolean;
}

const nearRoll = 0.55; // share of the roll's width from which the roll is worth drawing

/** The flat piece with a colour to each triangle; pointing at it names the triangle. */
export function FlatMap(props: FlatMapProps) {
  const { flat, triangles, colours, cut, slits, roll, triangle, dark } = props;
  const holder = useRef<HTMLDivElement>(null);
  const ground = useRef<HTMLCanvasElement>(null);
  const overlay = useRef<HTMLCanvasElement>(null);
  const size = useSize(holder);

  const { view, band } = useMemo(() => {
    const box = boxOf([flat, ...cut]);
    const middle = (box.bottom + box.top) / 2;
    const near = roll && heightOf(box) > nearRoll * roll.width;
    const band = near
      ? { bottom: middle - roll.width / 2, top: middle + roll.width / 2 }
      : undefined;
    const whole = band
      ? { ...box, bottom: Math.min(box.bottom, band.bottom), top: Math.max(box.top, band.top) }
      : box;
    return { view: fit(whole, size, band ? 22 : 12), band };
  }, [flat, cut, roll, size]);

  useEffect(() => {
    const pen = ground.current && penOn(ground.current, size);
    if (!pen || size.width === 0) return;
    if (band && roll) {
      const top = toScreen(filmPoint(0, band.top), view, size).y;
      const bottom = toScreen(filmPoint(0, band.bottom), view, size).y;
      pen.fillStyle = token("--well");
      pen.fillRect(0, top, size.width, bottom - top);
      pen.strokeStyle = token("--rule-strong");
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
      pen.fillText(roll.words, 6, top - 6);
    }
    triangles.forEach((corners, index) => {
      const ring = corners.map((vertex) => flat[vertex] ?? ([0, 0] as const));
      pen.beginPath();
      trace(pen, ring, view, size, "closed");
      pen.fillStyle = pen.strokeStyle = toCss(colours[index] ?? [1, 1, 1]);
      pen.lineWidth = 0.6;
      pen.fill();
      pen.stroke();
    });
    pen.strokeStyle = token("--ink");
    pen.lineWidth = 1.3;
    pen.lineJoin = "round";
    pen.beginPath();
    for (const ring of cut) trace(pen, ring, view, size, "closed");
    for (const slit of slits) trace(pen, slit, view, size, "open");
    pen.stroke();
  }, [flat, triangles, colours, cut, slits, roll, band, view, size, dark]);

  useEffect(() => {
    const pen = overlay.current && penOn(overlay.current, size);
    const corners = triangle === undefined ? undefined : triangles[triangle];
    if (!pen || !corners) return;
    let [x, y] = [0, 0];
    for (const vertex of corners) {
      x += (flat[vertex]?.[0] ?? 0) / 3;
      y += (flat[vertex]?.[1] ?? 0) / 3;
    }
    const at = toScreen(filmPoint(x, y), view, size);
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

  return (
    <div
      ref={holder}
      className={classes.holder}
      role="img"
      aria-label={props.label}
      onPointerMove={point}
      onPointerLeave={() => props.onTriangle(undefined)}
    >
      <canvas ref={ground} className={classes.fill} />
      <canvas ref={overlay} className={`${classes.fill} ${classes.overlay}`} />
    </div>
  );
}
