import { useEffect, useRef } from "react";
import type { WindowLook } from "@/api/client";
import { useSize } from "@/canvas/use_size";
import { encoded, paneLight, type Rgb, sceneAt, type View } from "./look";
import classes from "./glass.module.css";

interface PanesProps {
  front: WindowLook;
  behind: WindowLook;
  view: View;
  name: string;
}

const paint: Rgb = [0.045, 0.09, 0.08];
const trim: Rgb = [0.012, 0.012, 0.013];

/** Front window and the one behind it, side by side, light for light. */
export function Panes({ front, behind, view, name }: PanesProps) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (!canvas.current || size.width < 2 || size.height < 2) return;
    draw(canvas.current, size, front, behind, view);
  }, [size, front, behind, view]);
  return (
    <div ref={frame} className={classes.panes} role="img" aria-label={name}>
      <canvas ref={canvas} />
    </div>
  );
}

const css = ([red, green, blue]: Rgb) => `rgb(${encoded(red)} ${encoded(green)} ${encoded(blue)})`;

/** Both openings in a picture of width 1 and height 1. */
const openings = {
  front: [
    [0.055, 0.86],
    [0.2, 0.2],
    [0.47, 0.13],
    [0.475, 0.86],
  ],
  behind: [
    [0.525, 0.86],
    [0.53, 0.13],
    [0.86, 0.17],
    [0.945, 0.86],
  ],
} as const;

function draw(
  canvas: HTMLCanvasElement,
  size: { width: number; height: number },
  front: WindowLook,
  behind: WindowLook,
  view: View,
) {
  const scale = Math.min(2, window.devicePixelRatio || 1);
  const width = Math.round(size.width * scale);
  const height = Math.round(size.height * scale);
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext("2d");
  if (!pen) return;
  pen.fillStyle = css(view === "outside" ? paint : trim);
  pen.fillRect(0, 0, width, height);
  for (const [which, look] of [
    ["front", front],
    ["behind", behind],
  ] as const) {
    const pane = lit(look, view, width, height);
    pen.save();
    trace(pen, openings[which], width, height);
    pen.clip();
    pen.drawImage(pane, 0, 0);
    pen.restore();
    trace(pen, openings[which], width, height);
    pen.lineWidth = 5 * scale;
    pen.strokeStyle = css(trim);
    pen.stroke();
  }
}

function trace(
  pen: CanvasRenderingContext2D,
  corners: readonly (readonly [number, number])[],
  width: number,
  height: number,
) {
  const radius = 0.05 * height;
  const at = (k: number) => {
    const [x, y] = corners[(k + corners.length) % corners.length] ?? [0, 0];
    return { x: x * width, y: y * height };
  };
  pen.beginPath();
  const start = at(0);
  const second = at(1);
  pen.moveTo((start.x + second.x) / 2, (start.y + second.y) / 2);
  for (let k = 1; k <= corners.length; k++)
    pen.arcTo(at(k).x, at(k).y, at(k + 1).x, at(k + 1).y, radius);
  pen.closePath();
}

/** The whole picture as seen through one kind of pane. */
function lit(look: WindowLook, view: View, width: number, height: number): HTMLCanvasElement {
  const pane = document.createElement("canvas");
  pane.width = width;
  pane.height = height;
  const pen = pane.getContext("2d");
  if (!pen) return pane;
  const image = pen.createImageData(width, height);
  let k = 0;
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      const [red, green, blue] = paneLight(look, sceneAt(i / width, j / height), view);
      image.data[k++] = encoded(red);
      image.data[k++] = encoded(green);
      image.data[k++] = encoded(blue);
      image.data[k++] = 255;
    }
  }
  pen.putImageData(image, 0, 0);
  return pane;
}
