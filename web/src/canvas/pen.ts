import { filmPoint, type Ring, type Size, toScreen, type View } from "@/geometry/view";
import type { Pen } from "./svg_pen";

/** A canvas drawn in CSS pixels at the screen's own sharpness. */
export function penOn(canvas: HTMLCanvasElement, size: Size): CanvasRenderingContext2D | null {
  const sharpness = Math.min(window.devicePixelRatio || 1, 2);
  const [width, height] = [Math.round(size.width * sharpness), Math.round(size.height * sharpness)];
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
  }
  const pen = canvas.getContext("2d");
  pen?.setTransform(sharpness, 0, 0, sharpness, 0, 0);
  pen?.clearRect(0, 0, size.width, size.height);
  return pen;
}

export function trace(
  pen: Pick<Pen, "moveTo" | "lineTo" | "closePath">,
  points: Ring,
  view: View,
  size: Size,
  end: "closed" | "open",
) {
  points.forEach(([x, y], index) => {
    const at = toScreen(filmPoint(x, y), view, size);
    if (index === 0) pen.moveTo(at.x, at.y);
    else pen.lineTo(at.x, at.y);
  });
  if (end === "closed") pen.closePath();
}

/** A token of tokens.css as it is now, light or dark. */
export const token = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();
