import { expect, it } from "vitest";
import { encoded, paneLight, sceneAt } from "./look";

it("encodes half the light as 188, not as 128 (IEC 61966-2-1)", () => {
  expect(encoded(0.5)).toBe(188);
  expect(encoded(0)).toBe(0);
  expect(encoded(1)).toBe(255);
  expect(encoded(0.18)).toBe(118);
});

const pane = (through: number, mirrored: number) => ({
  through: [through, through, through],
  out: [through, through, through],
  mirrored: [mirrored, mirrored, mirrored],
  grey: true,
});

it("adds light before it encodes: a pane shows what it mirrors and what lies behind it", () => {
  const scene = sceneAt(0.5, 0.2);
  const [red] = paneLight(pane(0.5, 0.1), scene, "outside");
  expect(red).toBeCloseTo(0.1 * scene.sky[0] + 0.25 * scene.cabin[0], 12);
});

it("dims what one sees looking out once, and the cabin twice", () => {
  const scene = sceneAt(0.5, 0.9);
  expect(paneLight(pane(0.2, 0), scene, "inside")[1]).toBeCloseTo(0.2 * scene.road[1], 12);
  expect(paneLight(pane(0.2, 0), scene, "outside")[1]).toBeCloseTo(0.04 * scene.cabin[1], 12);
});
