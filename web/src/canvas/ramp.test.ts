import { expect, it } from "vitest";
import {
  decidingPosition,
  limitPosition,
  oklchToRgb,
  rampColour,
  rampPosition,
  rampRatio,
} from "./ramp";

const limits = { squeeze: 0.99, stretch: 1.06 };
const steps = [0, 0.2, 0.4, 0.6, 0.8, 1];

// Relative luminance: WCAG 2.2, definition of "relative luminance".
function luminance(position: number): number {
  const [r, g, b] = rampColour(position).map((c) =>
    c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4,
  ) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

it("agrees with the published OKLab of sRGB red", () => {
  // Ottosson 2020: #ff0000 is L 0.627955, C 0.257683, h 29.234 degrees.
  const [r, g, b] = oklchToRgb(0.627955, 0.257683, 29.234);
  expect(r).toBeCloseTo(1, 2);
  expect(g).toBeCloseTo(0, 1);
  expect(b).toBeCloseTo(0, 1);
});

it("darkens steadily away from unstrained, so that amount reads without colour", () => {
  for (const sign of [-1, 1])
    for (let i = 1; i < steps.length; i++)
      expect(luminance(sign * (steps[i] ?? 0))).toBeLessThan(luminance(sign * (steps[i - 1] ?? 0)));
});

it("tells squeeze from stretch along blue-yellow, which red-green blindness keeps", () => {
  for (const t of steps.slice(1)) {
    const [squeezeRed, squeezeGreen, squeezeBlue] = rampColour(-t);
    const [stretchRed, stretchGreen, stretchBlue] = rampColour(t);
    expect(squeezeBlue).toBeGreaterThan((squeezeRed + squeezeGreen) / 2);
    expect(stretchBlue).toBeLessThan((stretchRed + stretchGreen) / 2);
  }
});

it("puts the film's own limits at the same place on every ramp", () => {
  expect(rampPosition(1.06, limits)).toBeCloseTo(limitPosition, 12);
  expect(rampPosition(0.99, limits)).toBeCloseTo(-limitPosition, 12);
  expect(rampPosition(1, limits)).toBeCloseTo(0, 12);
  expect(rampPosition(0, limits)).toBe(-1);
});

it("finds the ratio of a position again", () => {
  for (const position of [-0.9, -0.3, 0, 0.5, 0.95])
    expect(rampPosition(rampRatio(position, limits), limits)).toBeCloseTo(position, 12);
});

it("colours a triangle by the strain that is nearer to the film's limit", () => {
  expect(decidingPosition(1.03, 0.999, limits)).toBe(rampPosition(1.03, limits));
  expect(decidingPosition(1.03, 0.992, limits)).toBe(rampPosition(0.992, limits));
});
