import { describe, expect, it } from "vitest";
import { moment, Scale, wallTime } from "./scale";

describe("the board's scale", () => {
  const scale = Scale.from("2031-05-05T07:30", 7, 130);

  it("folds nights to nothing", () => {
    expect(scale.x(moment("2031-05-05T19:00"))).toBe(130);
    expect(scale.x(moment("2031-05-06T06:00"))).toBe(130);
    expect(scale.x(moment("2031-05-06T02:00"))).toBe(130);
  });

  it("reads a place back as its time, on quarters of an hour", () => {
    const at = moment("2031-05-07T10:15");
    expect(wallTime(scale.at(scale.x(at)))).toBe("2031-05-07T10:15");
    expect(wallTime(scale.at(scale.x(at) + 0.4))).toBe("2031-05-07T10:15");
  });
});
