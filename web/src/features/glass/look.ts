import type { Light, WindowLook } from "@/api/client";

/** The value of a screen, 0 to 255, for an amount of light from 0 to 1 (IEC 61966-2-1). */
export function encoded(amount: number): number {
  const light = Math.min(1, Math.max(0, amount));
  const shown = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
  return Math.round(255 * shown);
}

const light = (at: Light, k: number) => at[k] ?? 0;

export type View = "outside" | "inside";
export type Rgb = readonly [number, number, number];

/** What stands in front of and behind the panes at a place of the picture, 0 to 1 both ways. */
export interface Scene {
  sky: Rgb; // mirrored in the pane, seen from outside
  cabin: Rgb; // behind the pane, seen from outside
  road: Rgb; // beyond the pane, seen from inside
}

const mix = (a: Rgb, b: Rgb, share: number): Rgb => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
  a[2] + (b[2] - a[2]) * share,
];

const step = (value: number, edge: number, soft: number) =>
  Math.min(1, Math.max(0, (value - edge) / soft + 0.5));

/** Invented: a pale sky over a hedge, seats in a dim cabin with the far windows behind them. */
export function sceneAt(x: number, y: number): Scene {
  const hedge = 0.62 + 0.035 * Math.sin(17 * x) + 0.02 * Math.sin(41 * x + 1);
  const sky = mix([0.62, 0.74, 0.9], [0.95, 0.96, 0.95], y);
  const green: Rgb = [0.055, 0.1, 0.045];
  const far = step(y, 0.14, 0.03) * step(0.52, y, 0.03);
  const seat = Math.max(
    step(0.075, Math.abs(x - 0.3), 0.02) * step(y, 0.33, 0.05),
    step(0.075, Math.abs(x - 0.72), 0.02) * step(y, 0.33, 0.05),
  );
  const cabin = mix(mix([0.07, 0.07, 0.075], [0.62, 0.66, 0.68], far), [0.03, 0.03, 0.032], seat);
  const meadow = mix(green, [0.2, 0.3, 0.1], step(y, 0.8, 0.3));
  return {
    sky: mix(sky, green, step(y, hedge + 0.16, 0.04)),
    cabin,
    road: mix(sky, meadow, step(y, hedge, 0.02)),
  };
}

/**
 * The light that comes from the pane, in linear amounts: from outside the mirrored sky and the
 * cabin lit and seen through the pane; from inside what lies beyond it, dimmed.
 */
export function paneLight(look: WindowLook, scene: Scene, view: View): Rgb {
  const at = (k: 0 | 1 | 2) =>
    view === "outside"
      ? scene.sky[k] * light(look.mirrored, k) +
        scene.cabin[k] * light(look.through, k) * light(look.out, k)
      : scene.road[k] * light(look.through, k);
  return [at(0), at(1), at(2)];
}
