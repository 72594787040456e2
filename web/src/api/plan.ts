import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client } from "./client";
import type { components } from "./schema.gen";

type Schemas = components["schemas"];
export type Plan = Schemas["Plan"];
export type PlanJob = Schemas["PlanJob"];
export type PlanTask = Schemas["PlanTask"];
export type PlanOrder = Schemas["PlanOrder"];
export type PlanSlip = Schemas["PlanSlip"];
export type WorkMove = Schemas["WorkMove"];
export type WorkReport = Schemas["WorkReport"];
export type MoveAnswer = Schemas["MoveAnswer"];
export type FitAnswer = Schemas["FitAnswer"];
export type RushAnswer = Schemas["RushAnswer"];
export type Workplace = Schemas["Workplace"];
export type PromiseAnswer = Schemas["PromiseAnswer"];

export const usePlan = () =>
  useQuery({
    queryKey: ["plan"],
    queryFn: () => answerOf(client.GET("/plan")),
    refetchInterval: 60_000,
    retry: false,
  });

export const usePlanHistory = (version: number) =>
  useQuery({
    queryKey: ["plan", "history", version],
    queryFn: async () => (await answerOf(client.GET("/plan/history"))).versions,
  });

export const tryMove = (body: WorkMove, signal?: AbortSignal) =>
  answerOf(client.POST("/plan/moves", { body, ...(signal ? { signal } : {}) }));

/** What changes the plan; each answer is the plan as it stands then. */
export function useChangePlan() {
  const queries = useQueryClient();
  const keep = (plan: Plan) => queries.setQueryData(["plan"], plan);
  const report = useMutation({
    mutationFn: (body: WorkReport) => answerOf(client.POST("/plan/reports", { body })),
    onSuccess: keep,
  });
  const book = useMutation({
    mutationFn: (body: PlanOrder) => answerOf(client.POST("/plan/jobs", { body })),
    onSuccess: keep,
  });
  const drop = useMutation({
    mutationFn: (job: string) =>
      answerOf(client.POST("/plan/jobs/{job}/drop", { params: { path: { job } } })),
    onSuccess: keep,
  });
  const clock = useMutation({
    mutationFn: (time: string) => answerOf(client.POST("/plan/clock", { body: { time } })),
    onSuccess: keep,
  });
  const move = useMutation({
    mutationFn: (body: WorkMove) => tryMove({ ...body, keep: 1 }),
    onSuccess: () => queries.invalidateQueries({ queryKey: ["plan"] }),
  });
  return { report, book, drop, clock, move };
}

/** Answers at the counter; nothing is changed by asking. */
export function useCounter() {
  const promise = useMutation({
    mutationFn: (body: PlanOrder) => answerOf(client.POST("/plan/promise", { body })),
  });
  const fits = useMutation({
    mutationFn: (body: PlanOrder) => answerOf(client.POST("/plan/fits", { body })),
  });
  const rush = useMutation({
    mutationFn: (body: PlanOrder) => answerOf(client.POST("/plan/rush", { body })),
  });
  return { promise, fits, rush };
}

export const useOpenFeed = () =>
  useMutation({
    mutationFn: (person: string) =>
      answerOf(client.POST("/plan/feeds", { body: person ? { person } : {} })),
  });

export const useWorkplace = () =>
  useQuery({
    queryKey: ["workplace"],
    queryFn: () => answerOf(client.GET("/plan/workplace")),
    retry: false,
  });

/** Replaces people, bays and the way of working; the plan is made anew under it. */
export function useChangeWorkplace() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: Workplace) => answerOf(client.POST("/plan/workplace", { body })),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: ["workplace"] });
      await queries.invalidateQueries({ queryKey: ["plan"] });
    },
  });
}
