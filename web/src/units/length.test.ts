import { expect, it } from "vitest";
import { fromUnit, mm, toUnit } from "./length";

it("counts 25.4 mm to the inch", () => {
  expect(toUnit(mm(1524), "in")).toBeCloseTo(60, 12);
  expect(fromUnit(0.25, "in")).toBeCloseTo(6.35, 12);
});
