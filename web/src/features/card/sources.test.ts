import { expect, it } from "vitest";
import { sourcesFor } from "./sources";

it("offers rolls of the film, and the offcuts that could hold the piece, in their order", () => {
  const roll = { id: "R-1", film: "clear", lot: "L1", offcut: false, area_mm2: 0 };
  const large = { id: "O-1", film: "clear", lot: "L1", offcut: true, area_mm2: 400_000 };
  const small = { id: "O-2", film: "clear", lot: "L2", offcut: true, area_mm2: 90_000 };
  const other = { id: "R-2", film: "matte", lot: "L3", offcut: false, area_mm2: 0 };
  const all = [roll, large, small, other];
  expect(sourcesFor(all, "clear", 100_000)).toEqual([roll, large]);
  expect(sourcesFor(all, "matte", 100_000)).toEqual([other]);
});
