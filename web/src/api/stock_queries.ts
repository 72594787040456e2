import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client, type NewOffcut, type NewRoll, type RecutReason } from "./client";
import type { components } from "./schema.gen";

export type RollDefect = components["schemas"]["RollDefect"];
export type NewSupply = components["schemas"]["NewSupply"];

export const useStock = () =>
  useQuery({ queryKey: ["stock"], queryFn: () => answerOf(client.GET("/stock")) });

export const useLedger = (roll: string) =>
  useQuery({
    queryKey: ["stock", "ledger", roll],
    queryFn: () => answerOf(client.GET("/rolls/{roll}/ledger", { params: { path: { roll } } })),
  });

/** After film came, went or was found: all that tells of film is asked again. */
function useStockChanged() {
  const queries = useQueryClient();
  return async () => {
    await queries.invalidateQueries({ queryKey: ["stock"] });
    await queries.invalidateQueries({ queryKey: ["rolls"] });
  };
}

export function useReceiveRoll() {
  const changed = useStockChanged();
  return useMutation({
    mutationFn: (body: NewRoll) => answerOf(client.POST("/rolls", { body })),
    onSuccess: changed,
  });
}

export interface StockChange {
  verb: "returned" | "written_off" | "counted";
  length_mm: number;
  why: string;
}

export function useChangeStock(roll: string) {
  const changed = useStockChanged();
  return useMutation({
    mutationFn: (body: StockChange) =>
      answerOf(client.POST("/rolls/{roll}/ledger", { params: { path: { roll } }, body })),
    onSuccess: changed,
  });
}

export interface Measure {
  outer_mm?: number;
  outer_mm_within?: number;
  gross_g?: number;
  gross_g_within?: number;
}

export const useCheckRoll = (roll: string) =>
  useMutation({
    mutationFn: (body: Measure) =>
      answerOf(client.POST("/rolls/{roll}/check", { params: { path: { roll } }, body })),
  });

export function useKeepOffcut() {
  const changed = useStockChanged();
  return useMutation({
    mutationFn: (body: NewOffcut) => answerOf(client.POST("/offcuts", { body })),
    onSuccess: changed,
  });
}

/** Replaces the defects known on a roll. */
export function useMarkDefects(roll: string) {
  const changed = useStockChanged();
  return useMutation({
    mutationFn: (defects: RollDefect[]) =>
      answerOf(
        client.POST("/rolls/{roll}/defects", { params: { path: { roll } }, body: { defects } }),
      ),
    onSuccess: changed,
  });
}

export function useSetSupply() {
  const changed = useStockChanged();
  return useMutation({
    mutationFn: (body: NewSupply) => answerOf(client.POST("/supplies", { body })),
    onSuccess: changed,
  });
}

/** What a finished run left that is worth keeping. */
export const useRests = (run: string) =>
  useQuery({
    queryKey: ["rests", run],
    queryFn: async () =>
      (await answerOf(client.GET("/runs/{run}/rests", { params: { path: { run } } }))).rests,
  });
export type Rest = NonNullable<ReturnType<typeof useRests>["data"]>[number];

export const useRecutPlaces = (job: string, piece: string) =>
  useQuery({
    queryKey: ["stock", "places", job, piece],
    queryFn: async () =>
      (
        await answerOf(
          client.GET("/jobs/{job}/pieces/{piece}/places", { params: { path: { job, piece } } }),
        )
      ).places,
  });

export interface RecutBody {
  piece: string;
  reason: RecutReason;
  note: string;
  stock: string;
  keep_rests: boolean;
}

/** A laid piece cut again; with a claim, in answer to it. */
export function useRecut(job: string, claim = "") {
  const changed = useStockChanged();
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ piece, ...body }: RecutBody) =>
      claim
        ? answerOf(client.POST("/claims/{claim}/recuts", { params: { path: { claim } }, body }))
        : answerOf(
            client.POST("/jobs/{job}/recuts", {
              params: { path: { job } },
              body: { piece, ...body },
            }),
          ),
    onSuccess: async () => {
      await changed();
      await queries.invalidateQueries({ queryKey: ["job", job, "installation"] });
      await queries.invalidateQueries({ queryKey: ["job", job, "cards"] });
      await queries.invalidateQueries({ queryKey: ["plan"] });
    },
  });
}

export const recutPlotAddress = (recut: string) =>
  `/api/v1/recuts/${encodeURIComponent(recut)}.plt`;
