import { expect, it } from "vitest";
import { needsReason, skippedStep } from "./life";

const nothing = { pieces: false, inspection: false, hand_over: false };
const all = { pieces: true, inspection: true, hand_over: true };

it("asks for a reason to go back or to give a job up, whatever is done", () => {
  expect(needsReason("released", "scoped", all)).toBe(true);
  expect(needsReason("inspected", "installing", all)).toBe(true);
  expect(needsReason("laid_out", "cancelled", all)).toBe(true);
  expect(needsReason("released", "installing", all)).toBe(false);
  expect(needsReason("cut_planned", "released", nothing)).toBe(false);
});

it("names the first step that a move forward would skip", () => {
  expect(skippedStep("inspected", nothing)).toBe("pieces");
  expect(skippedStep("inspected", { ...nothing, pieces: true })).toBe("inspection");
  expect(skippedStep("inspected", all)).toBeUndefined();
  expect(skippedStep("handed_over", { ...all, hand_over: false })).toBe("hand_over");
  expect(needsReason("inspected", "handed_over", all)).toBe(false);
  expect(needsReason("inspected", "handed_over", nothing)).toBe(true);
});
