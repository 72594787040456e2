import { describe, expect, it } from "vitest";
import { hoursText, replaced, shiftsOf } from "./form";

describe("hours as people type them", () => {
  it("reads stretches as one shift with breaks in the gaps, and writes them back", () => {
    const shifts = shiftsOf("8-12, 12:45–17:00");
    expect(shifts).toEqual([
      { from: "08:00", until: "17:00", breaks: [{ from: "12:00", until: "12:45" }] },
    ]);
    expect(hoursText(shifts)).toBe("08:00-12:00, 12:45-17:00");
    expect(hoursText([{ from: "22:00", until: "30:00" }])).toBe("22:00-30:00");
  });

  it("takes nothing as a free day and refuses what makes no sense", () => {
    expect(shiftsOf("")).toEqual([]);
    expect(shiftsOf("morning")).toBeUndefined();
    expect(shiftsOf("8:00-8:00")).toBeUndefined();
    expect(shiftsOf("8-12, 11-17")).toBeUndefined();
    expect(shiftsOf("8:70-12")).toBeUndefined();
  });

  it("keeps two shifts of a day worked as they are", () => {
    const text = hoursText([
      { from: "06:00", until: "10:00" },
      { from: "14:00", until: "18:00" },
    ]);
    expect(text).toBe("06:00-10:00, 14:00-18:00");
    expect(hoursText(shiftsOf(text))).toBe(text);
  });
});

describe("a list with one item replaced", () => {
  it("puts, or takes out", () => {
    expect(replaced([1, 2, 3], 1, 9)).toEqual([1, 9, 3]);
    expect(replaced([1, 2, 3], 1)).toEqual([1, 3]);
  });
});
