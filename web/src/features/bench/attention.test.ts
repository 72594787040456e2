import { expect, it } from "vitest";
import type { Cards, Job, JobGlass, Roll } from "@/api/client";
import type { PlanJob } from "@/api/plan";
import { attentionOf, nextStep, recutsWanted } from "./attention";

const job = (id: string, state: Job["state"]) =>
  ({ id, state, films: [{ film: "clear", has_layout: false, has_cut: false }] }) as unknown as Job;
const roll = (id: string, remaining: number) =>
  ({ id, remaining_mm: remaining, length_mm: 15_000 }) as Roll;
const promise = (id: string, kept: boolean, chance: number) =>
  ({ id, kept, chance, promise: "2031-05-09T16:00", end: "2031-05-09T12:00" }) as PlanJob;
const cards = (said: string | undefined, laid: string | undefined) =>
  ({
    lines: [
      {
        panel: "hood",
        on: laid === undefined ? [] : [{ at: laid }],
        said: said === undefined ? [] : [{ word: "recut", at: said }],
      },
    ],
  }) as unknown as Cards;

it("names what holds people up before what comes next", () => {
  const found = attentionOf({
    jobs: [job("J-1", "scoped"), job("J-2", "installing"), job("J-3", "cancelled")],
    glass: new Map([["J-1", { open: [{}, {}] } as unknown as JobGlass]]),
    cards: new Map([["J-2", cards("2031-05-04T12:00:00Z", "2031-05-04T10:00:00Z")]]),
    rolls: [roll("R-1", 900), roll("R-2", 14_000)],
    plan: [
      promise("T-1", true, 0.97),
      promise("T-2", true, 0.6),
      promise("T-3", false, 0),
      { ...promise("T-4", false, 0), promise: null },
    ],
  });
  expect(found.slice(0, 2)).toMatchObject([
    { kind: "late", plan: { id: "T-3" } },
    { kind: "atRisk", plan: { id: "T-2" } },
  ]);
  expect(found.slice(2).map(({ kind }) => kind)).toEqual([
    "recut",
    "decision",
    "lowFilm",
    "next",
    "next",
  ]);
  expect(found[3]).toMatchObject({ count: 2 });
});

it("a recut that was laid since is no longer wanted", () => {
  expect(recutsWanted(cards("2031-05-04T12:00:00Z", undefined))).toBe(1);
  expect(recutsWanted(cards("2031-05-04T12:00:00Z", "2031-05-04T13:00:00Z"))).toBe(0);
  expect(recutsWanted(cards(undefined, "2031-05-04T13:00:00Z"))).toBe(0);
});

it("leads a job that was found good to its owner, and one that is over nowhere", () => {
  expect(nextStep(job("J-1", "installing"))).toBe("card");
  expect(nextStep(job("J-1", "inspected"))).toBe("handover");
  expect(nextStep(job("J-1", "handed_over"))).toBe("done");
});
