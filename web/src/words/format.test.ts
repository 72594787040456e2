import { expect, it } from "vitest";
import { formatter, sentence } from "./format";

const plain = (text: string) => text.replaceAll("\u00a0", " ");

it("writes lengths in the reader's unit", () => {
  expect(plain(formatter("en", "in").length(1524))).toBe("60.0 in");
  expect(plain(formatter("en", "mm").length(1524))).toBe("1,524 mm");
  expect(plain(formatter("de", "mm").rollLength(12_340))).toBe("12,34 m");
});

it("writes a stretch as its change, and no change without a sign", () => {
  const { stretch } = formatter("en", "mm");
  expect(plain(stretch(1.0124))).toBe("+1.2 %");
  expect(plain(stretch(0.995))).toBe("\u22120.5 %");
  expect(plain(stretch(0.99999))).toBe("0.0 %");
});

it("writes durations in the two largest units", () => {
  const { duration } = formatter("en", "mm");
  expect(plain(duration(59.4))).toBe("59 s");
  expect(plain(duration(605))).toBe("10 min 05 s");
  expect(plain(duration(3 * 3600 + 120))).toBe("3 h 02 min");
});

it("writes work in hours and time by the clock in days", () => {
  const { work, lasting } = formatter("en", "mm");
  expect(plain(work(45))).toBe("45 min");
  expect(plain(work(28 * 60 + 48))).toBe("28 h 48 min");
  expect(plain(lasting(28 * 60 + 48))).toBe("1.2 d");
  expect(plain(lasting(605))).toBe("10 h 5 min");
});

it("writes the shop's times whatever the reader's zone, and money by its currency", () => {
  const { moment, calendarDay, money } = formatter("en", "mm");
  expect(plain(moment("2031-05-05T08:00"))).toMatch(/^Mon,? 5 May,? 08:00$/);
  expect(plain(calendarDay("2031-05-22"))).toMatch(/^Thu,? 22 May 2031$/);
  expect(money(431235, "EUR")).toBe("€4,312.35");
  expect(money(4312, "JPY")).toBe("¥4,312");
});

it("makes a sentence of what the server says", () => {
  expect(sentence("the edge curls into a lip")).toBe("The edge curls into a lip.");
  expect(sentence("0.8 % may finger.")).toBe("0.8\u00a0% may finger.");
});
