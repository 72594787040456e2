import { expect, it } from "vitest";
import { kept, nearestTurn, nextTurn, rest } from "./snap";
import type { Box } from "./view";

const box = (left: number, bottom: number, width: number, height: number): Box => ({
  left,
  bottom,
  right: left + width,
  top: bottom + height,
});
const film = box(10, 5, 20_000, 1_500);

it("rests at the edge of the film", () => {
  const found = rest(box(14, 500, 100, 50), { film, gap: 4, others: [] }, 10);
  expect(found.dx).toBeCloseTo(-4, 1);
  expect(found.x).toBe(10);
  expect(found.dy).toBe(0);
  expect(found.y).toBeUndefined();
});

it("rests a gap beside another piece, never nearer", () => {
  const other = box(100, 100, 200, 200);
  const found = rest(box(306, 150, 100, 50), { film, gap: 4, others: [other] }, 10);
  const left = 306 + found.dx;
  expect(left).toBeGreaterThan(304);
  expect(left).toBeLessThan(304.1);
});

it("takes the nearest of several rests and none beyond its reach", () => {
  const others = [box(100, 100, 200, 200), box(100, 312, 200, 50)];
  const near = rest(box(104, 306.5, 50, 2), { film, gap: 4, others }, 5);
  expect(near.x).toBe(100);
  expect(near.y).toBe(312);
  expect(306.5 + near.dy + 2).toBeLessThan(308);
  expect(rest(box(900, 800, 50, 50), { film, gap: 4, others }, 5)).toEqual({
    dx: 0,
    dy: 0,
    x: undefined,
    y: undefined,
  });
});

it("is never drawn over the edge of the film", () => {
  const over = box(100, 1, 200, 200); // lies over the edge itself
  const found = rest(box(400, 5.005, 100, 50), { film, gap: 4, others: [over] }, 10);
  expect(5.005 + found.dy).toBeGreaterThan(5);
});

it("is not put in line with a piece that touches the edge: boxes are rounded", () => {
  const touching = box(100, 5.002, 200, 200);
  const found = rest(box(400, 5.1, 100, 50), { film, gap: 4, others: [touching] }, 10);
  expect(5.1 + found.dy).toBeCloseTo(5.01, 6);
});

it("is carried no farther than the edge of the film, as wide as the film along it alone", () => {
  expect(kept(box(100, 100, 50, 50), 30, -40, film)).toEqual({ dx: 30, dy: -40 });
  const far = kept(box(100, 100, 50, 50), -300, 9_000, film);
  expect(100 + far.dx).toBeCloseTo(10.01, 6);
  expect(150 + far.dy).toBeCloseTo(1_504.99, 6);
  expect(kept(box(100, 5, 50, 1_500), 30, -1.9, film)).toEqual({ dx: 30, dy: 0 });
});

it("turns only as the grain allows", () => {
  expect(nearestTurn(130, [0, 180], 15)).toBe(180);
  expect(nearestTurn(350, [0, 180], 15)).toBe(0);
  expect(nearestTurn(52, [], 15)).toBe(45);
  expect(nextTurn(180, [0, 180], 1, 15)).toBe(0);
  expect(nextTurn(0, [0, 90, 180, 270], -1, 15)).toBe(270);
  expect(nextTurn(0, [], -1, 15)).toBe(345);
});
