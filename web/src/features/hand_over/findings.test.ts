import { expect, it } from "vitest";
import { findingsToKeep, looked, nothingFound, restGood } from "./findings";

const list = [
  { item: "edges", text: "Every edge lies down", german: "Jede Kante liegt an" },
  { item: "clean", text: "The vehicle is clean", german: "Das Fahrzeug ist sauber" },
];

it("keeps an inspection only when every item was looked at and every fault has a reason", () => {
  expect(findingsToKeep(list, {})).toBeUndefined();
  const half = { edges: { ...nothingFound, good: true } };
  expect(looked(list, half)).toBe(1);
  expect(findingsToKeep(list, half)).toBeUndefined();
  const fault = { ...half, clean: { good: false, note: " ", photo: "" } };
  expect(findingsToKeep(list, fault)).toBeUndefined();
  expect(
    findingsToKeep(list, {
      ...fault,
      clean: { good: false, note: " mud in the sill ", photo: "" },
    }),
  ).toEqual([
    { item: "edges", good: true, note: "" },
    { item: "clean", good: false, note: "mud in the sill" },
  ]);
});

it("leaves what was found when the rest is good", () => {
  const found = { edges: { good: false, note: "lifts", photo: "ab" } };
  const all = restGood(list, found);
  expect(all["edges"]).toEqual(found.edges);
  expect(all["clean"]?.good).toBe(true);
});
