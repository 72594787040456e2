import type { Installation } from "@/api/installation_queries";
import type { JobState } from "@/api/client";

/** A job's life in its order; `cancelled` stands outside. */
export const life: readonly JobState[] = [
  "scoped",
  "laid_out",
  "cut_planned",
  "released",
  "installing",
  "inspected",
  "handed_over",
];

export type Step = keyof Installation["steps"];

/** Steps that must be done before a job comes into a state. */
export const required: Partial<Record<JobState, readonly Step[]>> = {
  inspected: ["pieces", "inspection"],
  handed_over: ["hand_over"],
};

/** The first step that a move would skip now. */
export const skippedStep = (to: JobState, steps: Installation["steps"]): Step | undefined =>
  required[to]?.find((step) => !steps[step]);

/** Back, and out of the shop, only with a reason; so is a move that skips a step. */
export const needsReason = (from: JobState, to: JobState, steps: Installation["steps"]): boolean =>
  to === "cancelled" ||
  life.indexOf(to) < life.indexOf(from) ||
  skippedStep(to, steps) !== undefined;

/** The page on which the job is brought further. */
export const workPage: Partial<Record<JobState, string>> = {
  scoped: "roll",
  laid_out: "knife",
  cut_planned: "knife",
  released: "card",
  installing: "card",
  inspected: "handover",
};
