import { expect, it } from "vitest";
import type { Price } from "@/api/client";
import { linesOf, sumOf } from "./bill";

const line = { film: "", quantity: 1, measure: "vehicle", cost: 0, tax: 190_000 } as const;
const kinds = {
  film: "Film",
  laying: "Laying",
  preparation: "Preparation",
  coating: "Coating",
  consumables: "Consumables",
};

it("bills what was quoted: each line less its discount, films by their names", () => {
  const lines: Price["lines"] = [
    { ...line, kind: "film", name: "Clear Heron", net: 100_000, discount: 5_000 },
    { ...line, kind: "laying", name: "", net: 80_000, discount: 4_000 },
  ];
  expect(linesOf({ lines }, kinds)).toEqual([
    { text: "Clear Heron", net: 95_000, tax: 190_000 },
    { text: "Laying", net: 76_000, tax: 190_000 },
  ]);
  expect(sumOf(linesOf({ lines }, kinds))).toBe(171_000);
});
