import { expect, it } from "vitest";
import { shelvedAs } from "./shelved";

const offcut = (id: string, run: string, length: number, width: number) => ({
  id,
  run,
  outline: {
    outer: [
      [0, 0],
      [length, 0],
      [length, width],
      [0, width],
    ] as [number, number][],
    holes: [],
  },
});

it("knows which rests of a run are on the shelf already, each offcut once", () => {
  const rest = { length_mm: 600, width_mm: 400 };
  const other = { length_mm: 300, width_mm: 250 };
  const shelf = [offcut("O-1", "C-1", 600, 400), offcut("O-2", "C-2", 300, 250)];
  expect(shelvedAs([rest, rest, other], shelf, "C-1")).toEqual(["O-1", undefined, undefined]);
  expect(shelvedAs([other], shelf, "C-2")).toEqual(["O-2"]);
});
