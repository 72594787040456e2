import { expect, it } from "vitest";
import { fromUnit, mm, toAreaUnit, toRollUnit, toUnit } from "./length";

it("counts 25.4 mm to the inch", () => {
  expect(toUnit(mm(1524), "in")).toBeCloseTo(60, 12);
  expect(fromUnit(0.25, "in")).toBeCloseTo(6.35, 12);
});

it("measures roll in metres or feet of 304.8 mm", () => {
  expect(toRollUnit(mm(12_000), "mm")).toBe(12);
  expect(toRollUnit(mm(15_240), "in")).toBeCloseTo(50, 12);
});

it("counts 0.09290304 m² to the square foot", () => {
  expect(toAreaUnit(1e6, "mm")).toBeCloseTo(1, 12);
  expect(toAreaUnit(0.09290304e6, "in")).toBeCloseTo(1, 12);
});
