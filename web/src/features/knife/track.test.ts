import { expect, it } from "vitest";
import type { Cut } from "@/api/client";
import {
  contourAt,
  knifeAt,
  lengthOf,
  passedBy,
  startsOf,
  stepOf,
  stepsOf,
  stretchAt,
  trackOf,
} from "./track";

// 100 mm up to a contour of 200 mm, then 100 mm home: 1 s + 4 s + 1 s at these speeds.
const cut: Cut = {
  job: "J",
  roll: "R-1",
  film: "f",
  profile: "p",
  width_mm: 1524,
  length_mm: 300,
  cut_mm: 200,
  travel_mm: 200,
  estimated_seconds: 12,
  contours: [{ piece: "hood", copy: 0, kind: "outline", frame: 0, drawn: [] }],
  segments: [
    {
      kind: "travel",
      contour: 0,
      points: [
        [0, 0],
        [100, 0],
      ],
    },
    {
      kind: "cut",
      contour: 0,
      points: [
        [100, 0],
        [200, 0],
        [200, 100],
      ],
    },
    {
      kind: "travel",
      contour: -1,
      points: [
        [200, 100],
        [300, 100],
      ],
    },
  ],
  made: "2026-01-01T00:00:00Z",
};
const track = trackOf(cut, { cut: 50, travel: 100 });

it("spreads the server's estimate over the path by speed", () => {
  expect(track.map(({ seconds }) => seconds)).toEqual([0, 2, 2, 6, 10, 10, 12]);
  expect(lengthOf(track)).toBe(12);
});

it("finds the knife between two points", () => {
  expect(knifeAt(track, 1)).toEqual({ x: 50, y: 0 });
  expect(knifeAt(track, 8)).toEqual({ x: 200, y: 50 });
  expect(knifeAt(track, 0)).toEqual({ x: 0, y: 0 });
  expect(knifeAt(track, 99)).toEqual({ x: 300, y: 100 });
});

it("counts the points passed", () => {
  expect(passedBy(track, 0)).toBe(1);
  expect(passedBy(track, 2)).toBe(3);
  expect(passedBy(track, 12)).toBe(7);
});

it("tells the contour in work and the way home", () => {
  expect(stretchAt(track, 1)?.contour).toBe(0);
  expect(stretchAt(track, 7)?.contour).toBe(0);
  expect(stretchAt(track, 11)?.contour).toBe(-1);
});

it("knows where and when the knife comes down", () => {
  expect(startsOf(track).get(0)).toMatchObject({ seconds: 2, x: 100, y: 0 });
});

it("bears a path with nothing in it", () => {
  const none = trackOf({ ...cut, segments: [], estimated_seconds: 0 }, { cut: 50, travel: 100 });
  expect(knifeAt(none, 1)).toEqual({ x: 0, y: 0 });
  expect(stretchAt(none, 1)).toBeUndefined();
  expect(lengthOf(none)).toBe(0);
});

it("names what the knife goes to before it gets there, and home only at the end", () => {
  expect(contourAt(track, 0)).toBe(0);
  expect(contourAt(track, 7)).toBe(0);
  expect(contourAt(track, 11)).toBe(-1);
});

it("counts the slits of one piece as one step", () => {
  const contour = (piece: string, kind: "slit" | "outline") => ({
    piece,
    copy: 0,
    kind,
    frame: 0,
    drawn: [],
  });
  const steps = stepsOf([
    contour("roof", "slit"),
    contour("roof", "slit"),
    contour("roof", "outline"),
    contour("hood", "slit"),
    contour("hood", "outline"),
  ]);
  expect(steps.map(({ first, count }) => [first, count])).toEqual([
    [0, 2],
    [2, 1],
    [3, 1],
    [4, 1],
  ]);
  expect([0, 1, 2, 4, -1].map((index) => stepOf(steps, index))).toEqual([0, 0, 1, 3, -1]);
});
