import { expect, it } from "vitest";
import { toStage } from "./frame";

it("turns the vehicle frame into glTF's without mirroring it", () => {
  const [forward, left, up] = [toStage([1000, 0, 0]), toStage([0, 1000, 0]), toStage([0, 0, 1000])];
  expect(forward).toEqual([0, 0, 1]);
  expect(left).toEqual([1, 0, 0]);
  expect(up).toEqual([0, 1, 0]);
  // Right-handed stays right-handed: forward x left = up.
  const cross = [
    forward[1] * left[2] - forward[2] * left[1],
    forward[2] * left[0] - forward[0] * left[2],
    forward[0] * left[1] - forward[1] * left[0],
  ];
  expect(cross).toEqual(up);
});
