import { expect, it } from "vitest";
import { newDefect, wholeDefects } from "./defects";

const roll = { length_mm: 15_000, remaining_mm: 9_000, width_mm: 1524 };

it("begins a defect at the outer end, over the whole width", () => {
  const first = newDefect(roll);
  expect(wholeDefects([first], roll)).toEqual([
    { from_core_mm: 8_900, length_mm: 100, low_mm: 0, high_mm: 1524, note: "" },
  ]);
});

it("gives nothing while a measure is missing or off the roll", () => {
  const sound = newDefect(roll);
  expect(wholeDefects([], roll)).toEqual([]);
  expect(wholeDefects([sound, { ...sound, length_mm: undefined }], roll)).toBeUndefined();
  expect(wholeDefects([{ ...sound, from_core_mm: 14_950 }], roll)).toBeUndefined();
  expect(wholeDefects([{ ...sound, low_mm: 800, high_mm: 800 }], roll)).toBeUndefined();
  expect(wholeDefects([{ ...sound, high_mm: 1600 }], roll)).toBeUndefined();
});
