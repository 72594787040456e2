import { expect, it } from "vitest";
import { found, type Place } from "./find_match";

const place = (kind: Place["kind"], name: string, also = ""): Place => ({
  kind,
  name,
  also,
  href: name,
});
const places = [
  place("page", "Bench"),
  place("job", "Whole car in clear film", "J-0001 Ötto Hollunder"),
  place("roll", "R-0001", "Dandelion Clear LOT-4711"),
  place("film", "Dandelion Clear"),
];
const names = (typed: string) => found(places, typed, 9).map(({ name }) => name);

it("finds a roll by its lot and a job by its customer, whatever the accents", () => {
  expect(names("4711")).toEqual(["R-0001"]);
  expect(names("otto")).toEqual(["Whole car in clear film"]);
});

it("puts what begins so before what only holds it, and wants every word", () => {
  expect(names("clear")).toEqual(["Whole car in clear film", "Dandelion Clear", "R-0001"]);
  expect(names("dandelion")).toEqual(["Dandelion Clear", "R-0001"]);
  expect(names("clear whole")).toEqual(["Whole car in clear film"]);
  expect(names("xyz")).toEqual([]);
});

it("shows all when nothing is typed", () => {
  expect(names("")).toHaveLength(4);
});
