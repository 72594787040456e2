import type { Size, View } from "@/geometry/view";
import { shownBox } from "./use_view";
import classes from "./canvas.module.css";

interface RulerProps {
  view: View;
  size: Size;
  /** The unit of the figures, in mm, and how to write a multiple of it. */
  unit: number;
  write: (count: number) => string;
}

const steps = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20];
const leastPixels = 56;

/** Lengths along the roll, at the upper edge of a picture. */
export function Ruler({ view, size, unit, write }: RulerProps) {
  const step = steps.find((one) => one * unit * view.scale >= leastPixels) ?? 50;
  const box = shownBox(view, size);
  const first = Math.max(0, Math.ceil(box.left / (step * unit)));
  const last = Math.floor(box.right / (step * unit));
  const ticks = Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => first + index);
  return (
    <div className={classes.ruler} aria-hidden="true">
      {ticks.map((tick) => (
        <span
          key={tick}
          style={{ left: size.width / 2 + (tick * step * unit - view.x) * view.scale }}
        >
          {write(tick * step)}
        </span>
      ))}
    </div>
  );
}
