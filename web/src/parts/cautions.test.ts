import { expect, it } from "vitest";
import type { Panel } from "@/api/client";
import { cautionsOf } from "./cautions";

const panel: Panel = {
  id: "hood",
  name: "Hood",
  zone: "front",
  side: "centre",
  finish: "gloss_paint",
  sensor: false,
  badge: false,
  twin_of: "",
  area_mm2: 1,
  triangles: 1,
};

it("reminds of lamps, reflectors, glass, sensors, badges and blades where they are", () => {
  expect(cautionsOf(panel, "precut")).toEqual([]);
  expect(cautionsOf({ ...panel, finish: "lamp" }, "precut")).toEqual(["lamp"]);
  expect(cautionsOf({ ...panel, finish: "glass", sensor: true }, undefined)).toEqual([
    "glass",
    "sensor",
  ]);
  expect(cautionsOf({ ...panel, badge: true }, "bulk")).toEqual(["badge", "bulk"]);
});
