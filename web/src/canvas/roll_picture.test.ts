import { expect, it } from "vitest";
import { placedBox } from "./roll_picture";

it("turns a piece about its own origin, then moves it", () => {
  const shape = {
    key: "a",
    name: "A",
    zone: "front",
    rings: [
      [
        [0, 0],
        [100, 0],
        [100, 40],
        [0, 40],
      ],
    ] as const,
    turn: 90,
    x: 500,
    y: 10,
  };
  const box = placedBox(shape);
  expect(box.left).toBeCloseTo(460, 9);
  expect(box.right).toBeCloseTo(500, 9);
  expect(box.bottom).toBeCloseTo(10, 9);
  expect(box.top).toBeCloseTo(110, 9);
});
