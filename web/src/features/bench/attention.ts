import type { PlanJob } from "@/api/plan";
import type { Cards, Job, JobGlass, Roll } from "@/api/client";

/** One thing that somebody should see to, and where. */
export type Attention =
  | { kind: "late"; plan: PlanJob }
  | { kind: "atRisk"; plan: PlanJob }
  | { kind: "decision"; job: Job; count: number }
  | { kind: "recut"; job: Job; count: number }
  | { kind: "lowFilm"; roll: Roll }
  | { kind: "next"; job: Job; step: Step };

export type Step = "body" | "roll" | "knife" | "card" | "handover" | "done";

/** A roll this short is seen to before it runs out; a vehicle takes 10 to 25 m. */
export const lowFilm = { mm: 5000, share: 0.2 };

export const isLow = ({ remaining_mm, length_mm }: Roll) =>
  remaining_mm < lowFilm.mm || remaining_mm < lowFilm.share * length_mm;

/** The step that is waited for: what is not yet made. */
export function nextStep(job: Job): Step {
  if (job.state === "released" || job.state === "installing") return "card";
  if (job.state === "inspected") return "handover";
  if (job.state === "handed_over" || job.state === "cancelled") return "done";
  if (job.films.every(({ has_cut }) => has_cut)) return "knife";
  if (job.films.some(({ has_layout, has_cut }) => has_layout && !has_cut)) return "knife";
  return job.films.some(({ has_layout }) => has_layout) ? "roll" : "body";
}

/** Recuts that were asked for and not laid since. */
export const recutsWanted = (cards: Cards) =>
  cards.lines.filter(({ on, said }) => {
    const asked = said.findLast(({ word }) => word === "recut");
    return asked !== undefined && !on.some(({ at }) => at > asked.at);
  }).length;

/** A promise that is kept less often than this is at risk. */
export const sureEnough = 0.9;

interface Known {
  jobs: readonly Job[];
  plan: readonly PlanJob[];
  glass: ReadonlyMap<string, JobGlass>;
  cards: ReadonlyMap<string, Cards>;
  rolls: readonly Roll[];
}

/** What waits, the most pressing first: what holds people up, then what comes next. */
export function attentionOf({ jobs, plan, glass, cards, rolls }: Known): Attention[] {
  const open = jobs.filter((job) => nextStep(job) !== "done");
  const promised = plan.filter(({ promise }) => promise !== null);
  return [
    ...promised.filter(({ kept }) => !kept).map((one): Attention => ({ kind: "late", plan: one })),
    ...promised
      .filter(({ kept, chance }) => kept && (chance ?? 1) < sureEnough)
      .map((one): Attention => ({ kind: "atRisk", plan: one })),
    ...open.flatMap((job): Attention[] => {
      const known = cards.get(job.id);
      const count = known ? recutsWanted(known) : 0;
      return count > 0 ? [{ kind: "recut", job, count }] : [];
    }),
    ...open.flatMap((job): Attention[] => {
      const count = glass.get(job.id)?.open.length ?? 0;
      return count > 0 ? [{ kind: "decision", job, count }] : [];
    }),
    ...rolls.filter(isLow).map((roll): Attention => ({ kind: "lowFilm", roll })),
    ...open.map((job): Attention => ({ kind: "next", job, step: nextStep(job) })),
  ];
}
