import { expect, test } from "vitest";
import { typedNumber } from "./typed_number";

test("a field's text counts as the number it shows; a half-typed one as none", () => {
  expect(typedNumber(2.5)).toBe(2.5);
  expect(typedNumber("1200.00")).toBe(1200);
  expect(typedNumber("-0.50")).toBe(-0.5);
  expect(typedNumber("3.")).toBe(3);
  expect(typedNumber("")).toBeUndefined();
  expect(typedNumber("-")).toBeUndefined();
});
