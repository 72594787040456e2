import { expect, it } from "vitest";
import {
  boxOf,
  filmPoint,
  fit,
  pathOf,
  screenPoint,
  toFilm,
  toScreen,
  triangleAt,
  zoomAt,
} from "./view";

const size = { width: 800, height: 400 };
const square = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
] as const;

it("fits a box inside the margin on its tighter side", () => {
  const view = fit(boxOf([square]), size, 20);
  expect(view.scale).toBeCloseTo(3.6, 12);
  expect(toScreen(filmPoint(50, 100), view, size)).toEqual(screenPoint(400, 20));
});

it("comes back to the same film point from the screen", () => {
  const view = { x: 3, y: -7, scale: 0.31 };
  const back = toFilm(toScreen(filmPoint(123, 456), view, size), view, size);
  expect(back.x).toBeCloseTo(123, 9);
  expect(back.y).toBeCloseTo(456, 9);
});

it("keeps the film under the pointer while zooming", () => {
  const view = { x: 3, y: -7, scale: 0.31 };
  const at = screenPoint(120, 333);
  const before = toFilm(at, view, size);
  const after = toFilm(at, zoomAt(view, at, size, 1.7), size);
  expect(after.x).toBeCloseTo(before.x, 9);
  expect(after.y).toBeCloseTo(before.y, 9);
});

it("finds the triangle under a point in either orientation, and none outside", () => {
  const triangles = [
    [0, 1, 2],
    [0, 3, 2],
  ] as const;
  expect(triangleAt(filmPoint(80, 20), square, triangles)).toBe(0);
  expect(triangleAt(filmPoint(20, 80), square, triangles)).toBe(1);
  expect(triangleAt(filmPoint(120, 80), square, triangles)).toBe(-1);
});

it("writes each ring as one closed path", () => {
  expect(
    pathOf([
      square,
      [
        [1, 1],
        [2, 1],
        [2, 2],
      ],
    ]),
  ).toBe("M0 0L100 0L100 100L0 100ZM1 1L2 1L2 2Z");
});
