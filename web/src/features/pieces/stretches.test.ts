import { expect, it } from "vitest";
import type { Piece } from "@/api/client";
import { middleOf, stretchesOf } from "./stretches";

const edge = (name: string, ring: number, first: number) => ({
  name,
  ring,
  first,
  kind: "gap" as const,
  allowance_mm: 0,
  corner: "round" as const,
});
const outline = {
  outer: [
    [0, 0],
    [4, 0],
    [4, 2],
    [0, 2],
  ],
  holes: [
    [
      [1, 1],
      [1, 1.5],
      [2, 1],
    ],
  ],
};
const piece = {
  fold: outline,
  cut: outline,
  edges: [edge("a", 0, 1), edge("b", 0, 3), edge("hole", 1, 0)],
} as unknown as Piece;

it("follows each stretch to the start of the next one of its ring", () => {
  expect(stretchesOf(piece)).toEqual([
    [
      [4, 0],
      [4, 2],
      [0, 2],
    ],
    [
      [0, 2],
      [0, 0],
      [4, 0],
    ],
    [
      [1, 1],
      [1, 1.5],
      [2, 1],
      [1, 1],
    ],
  ]);
});

it("finds the point half way", () => {
  expect(
    middleOf([
      [0, 0],
      [4, 0],
      [4, 2],
    ]),
  ).toEqual([3, 0]);
});
