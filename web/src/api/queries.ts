import {
  keepPreviousData,
  queryOptions,
  useMutation,
  useQuery,
  useQueryClient,
} from "@tanstack/react-query";
import { useCallback } from "react";
import {
  answerOf,
  client,
  type DecisionBody,
  type EdgeEdit,
  type JobGlass,
  type LayoutEdit,
  type LayoutRequest,
  type NewJob,
  type ReadingBody,
  type Run,
  ServerProblem,
  type Standing,
  type Tint,
  type WindowPosition,
} from "./client";

const unchanging = { staleTime: Infinity };

export const shopQuery = queryOptions({
  queryKey: ["shop"],
  queryFn: () => answerOf(client.GET("/shop")),
  ...unchanging,
});

export const useShop = () => useQuery(shopQuery);

export const filmsQuery = queryOptions({
  queryKey: ["films"],
  queryFn: async () => (await answerOf(client.GET("/films"))).films,
  ...unchanging,
});

export const useFilms = () => useQuery(filmsQuery);

export const rollsQuery = queryOptions({
  queryKey: ["rolls"],
  queryFn: async () => (await answerOf(client.GET("/rolls"))).rolls,
});

export const useRolls = () => useQuery(rollsQuery);

export const useProfiles = () =>
  useQuery({
    queryKey: ["profiles"],
    queryFn: async () => (await answerOf(client.GET("/profiles"))).profiles,
    ...unchanging,
  });

export const vehiclesQuery = queryOptions({
  queryKey: ["vehicles"],
  queryFn: async () => (await answerOf(client.GET("/vehicles"))).vehicles,
});

export const useVehicles = () => useQuery(vehiclesQuery);

export const useVehicle = (vehicle: string) =>
  useQuery({
    queryKey: ["vehicle", vehicle],
    queryFn: () => answerOf(client.GET("/vehicles/{vehicle}", { params: { path: { vehicle } } })),
    ...unchanging,
  });

export const useVehicleModel = (vehicle: string) =>
  useQuery({
    queryKey: ["vehicle", vehicle, "model"],
    queryFn: () =>
      answerOf(
        client.GET("/vehicles/{vehicle}/model.glb", {
          params: { path: { vehicle } },
          parseAs: "arrayBuffer",
        }),
      ),
    ...unchanging,
  });

export const useStudy = (vehicle: string, panel: string | undefined, film: string | undefined) =>
  useQuery({
    queryKey: ["study", vehicle, panel, film],
    queryFn: ({ signal }) =>
      answerOf(
        client.GET("/vehicles/{vehicle}/panels/{panel}/study", {
          params: { path: { vehicle, panel: panel ?? "" }, query: { film: film ?? "" } },
          signal,
        }),
      ),
    enabled: panel !== undefined && film !== undefined,
    ...unchanging,
  });

export const jobsQuery = queryOptions({
  queryKey: ["jobs"],
  queryFn: async () => (await answerOf(client.GET("/jobs"))).jobs,
});

export const useJobs = () => useQuery(jobsQuery);

export const useJob = (job: string) =>
  useQuery({
    queryKey: ["job", job],
    queryFn: () => answerOf(client.GET("/jobs/{job}", { params: { path: { job } } })),
  });

export const usePieces = (job: string) =>
  useQuery({
    queryKey: ["job", job, "pieces"],
    queryFn: () => answerOf(client.GET("/jobs/{job}/pieces", { params: { path: { job } } })),
    ...unchanging,
  });

/** null when there is none yet. */
export const useLayout = (job: string, film: string, made: boolean, roll = "") =>
  useQuery({
    queryKey: ["job", job, "layout", film, roll],
    queryFn: () =>
      answerOf(
        client.GET("/jobs/{job}/layout", { params: { path: { job }, query: { film, roll } } }),
      ),
    enabled: made,
  });

export const useCut = (job: string, film: string, made: boolean, roll = "") =>
  useQuery({
    queryKey: ["job", job, "cut", film, roll],
    queryFn: () =>
      answerOf(client.GET("/jobs/{job}/cut", { params: { path: { job }, query: { film, roll } } })),
    enabled: made,
  });

export const usePapers = (job: string) =>
  useQuery({
    queryKey: ["job", job, "papers"],
    queryFn: async () =>
      (await answerOf(client.GET("/jobs/{job}/papers", { params: { path: { job } } }))).papers,
  });

export interface MatchQuestion {
  front: number;
  behind: number;
  front_tint: Tint;
  behind_tint: Tint;
  most_films: number;
  glass_tolerance: number;
  meter_error: number;
  place?: string;
  position: WindowPosition;
}

export const usePlaces = () =>
  useQuery({
    queryKey: ["places"],
    queryFn: () => answerOf(client.GET("/glass/places")),
    ...unchanging,
  });

export const useMatches = (question: MatchQuestion) =>
  useQuery({
    queryKey: ["match", question],
    queryFn: () => answerOf(client.POST("/glass/match", { body: question })),
    placeholderData: (before) => before,
    retry: false,
    ...unchanging,
  });

export const jobGlassQuery = (job: string) => ({
  queryKey: ["job", job, "glass"],
  queryFn: () => answerOf(client.GET("/jobs/{job}/glass", { params: { path: { job } } })),
});

export const useJobGlass = (job: string) => useQuery(jobGlassQuery(job));

/** What is recorded about the job's glass; each answer is the glass as it stands then. */
export function useRecordGlass(job: string) {
  const queries = useQueryClient();
  const path = { params: { path: { job } } };
  const keep = (glass: JobGlass) => queries.setQueryData(["job", job, "glass"], glass);
  const place = useMutation({
    mutationFn: (id: string) =>
      answerOf(client.POST("/jobs/{job}/glass/place", { ...path, body: { place: id } })),
    onSuccess: keep,
  });
  const reading = useMutation({
    mutationFn: (body: ReadingBody) =>
      answerOf(client.POST("/jobs/{job}/glass/readings", { ...path, body })),
    onSuccess: keep,
  });
  const decision = useMutation({
    mutationFn: (body: DecisionBody) =>
      answerOf(client.POST("/jobs/{job}/glass/decisions", { ...path, body })),
    onSuccess: keep,
  });
  return { place, reading, decision };
}

export function useOpenJob() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: NewJob) => answerOf(client.POST("/jobs", { body })),
    onSuccess: () => queries.invalidateQueries({ queryKey: ["jobs"] }),
  });
}

/** Everything known of the job is asked again: its state, layouts and knife paths. */
export function useJobChanged(job: string) {
  const queries = useQueryClient();
  return useCallback(async () => {
    queries.removeQueries({ queryKey: ["job", job, "cut"] });
    await queries.invalidateQueries({
      queryKey: ["job", job],
      predicate: ({ queryKey }) => queryKey[2] !== "pieces",
    });
    await queries.invalidateQueries({ queryKey: ["jobs"] });
  }, [queries, job]);
}

/** What edits make of a piece; asks again with every edit and shows the last answer meanwhile. */
export const useTriedEdits = (job: string, piece: string, edits: readonly EdgeEdit[]) =>
  useQuery({
    queryKey: ["job", job, "tried", piece, edits],
    queryFn: () =>
      answerOf(
        client.POST("/jobs/{job}/pieces/{piece}/preview", {
          params: { path: { job, piece } },
          body: { edits: [...edits] },
        }),
      ),
    enabled: edits.length > 0,
    placeholderData: edits.length > 0 ? keepPreviousData : undefined,
    retry: false,
    gcTime: 0,
  });

interface KeptEdits {
  piece: string;
  edits: EdgeEdit[];
  note: string;
  standing: "accepted" | "proposed";
}

export function useKeepEdits(job: string, vehicle: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ piece, ...body }: KeptEdits) =>
      answerOf(
        client.POST("/jobs/{job}/pieces/{piece}", { params: { path: { job, piece } }, body }),
      ),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: ["job", job] });
      await queries.invalidateQueries({ queryKey: ["jobs"] });
      await queries.invalidateQueries({ queryKey: ["vehicle", vehicle] });
    },
  });
}

export const useVersions = (vehicle: string) =>
  useQuery({
    queryKey: ["vehicle", vehicle, "versions"],
    queryFn: async () =>
      (
        await answerOf(
          client.GET("/vehicles/{vehicle}/versions", { params: { path: { vehicle } } }),
        )
      ).versions,
  });

export function useSetStanding(vehicle: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: { version: number; standing: Standing }) =>
      answerOf(
        client.POST("/vehicles/{vehicle}/versions", { params: { path: { vehicle } }, body }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: ["vehicle", vehicle] }),
  });
}

export function useImportLibrary() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (file: File) =>
      answerOf(
        client.POST("/library", {
          body: file as unknown as string,
          bodySerializer: (body) => body,
          headers: { "Content-Type": "application/zip" },
        }),
      ),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: ["vehicle"] });
      await queries.invalidateQueries({ queryKey: ["vehicles"] });
    },
  });
}

export const useStartLayout = (job: string) =>
  useMutation({
    mutationFn: (body: LayoutRequest) =>
      answerOf(client.POST("/jobs/{job}/layout", { params: { path: { job } }, body })),
  });

const cardQuery = (job: string, panel: string) => ({
  queryKey: ["job", job, "card", panel],
  queryFn: () =>
    answerOf(client.GET("/jobs/{job}/cards/{panel}", { params: { path: { job, panel } } })),
  ...unchanging,
  gcTime: Infinity, // to be shown without a network
});

export const cardsQuery = (job: string) => ({
  queryKey: ["job", job, "cards"],
  queryFn: () => answerOf(client.GET("/jobs/{job}/cards", { params: { path: { job } } })),
});

/** The cards of a job; `fetchCard` brings one of them before it is looked at. */
export function useCards(job: string) {
  const queries = useQueryClient();
  const fetchCard = useCallback(
    (panel: string) => queries.fetchQuery(cardQuery(job, panel)),
    [queries, job],
  );
  const cards = useQuery(cardsQuery(job));
  return { ...cards, fetchCard };
}

export const useCard = (job: string, panel: string | undefined) =>
  useQuery({ ...cardQuery(job, panel ?? ""), enabled: panel !== undefined });

/** What an edited layout takes and breaks. */
export const checkLayout = (job: string, body: LayoutEdit, signal?: AbortSignal) =>
  answerOf(
    client.POST("/jobs/{job}/layout/check", {
      params: { path: { job } },
      body,
      ...(signal && { signal }),
    }),
  );

export const useSqueezeLayout = (job: string) =>
  useMutation({
    mutationFn: (body: LayoutEdit) =>
      answerOf(client.POST("/jobs/{job}/layout/squeeze", { params: { path: { job } }, body })),
  });

export const useMakeRoom = (job: string) =>
  useMutation({
    mutationFn: (body: LayoutEdit) =>
      answerOf(client.POST("/jobs/{job}/layout/room", { params: { path: { job } }, body })),
  });

export function useKeepLayout(job: string) {
  const queries = useQueryClient();
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: LayoutEdit) =>
      answerOf(client.POST("/jobs/{job}/layout/keep", { params: { path: { job } }, body })),
    onSuccess: async (layout) => {
      queries.setQueryData(["job", job, "layout", layout.film], layout);
      await changed();
    },
  });
}

export const useStopTask = () =>
  useMutation({
    mutationFn: (task: string) =>
      answerOf(
        client.DELETE("/tasks/{task}", {
          params: { path: { task } },
          headers: { "Content-Type": "application/json" },
        }),
      ),
  });

export function usePlanCut(job: string) {
  const queries = useQueryClient();
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: { profile: string; film: string }) =>
      answerOf(client.POST("/jobs/{job}/cut", { params: { path: { job } }, body })),
    onSuccess: async (cut) => {
      await changed();
      queries.setQueryData(["job", job, "cut", cut.film, ""], cut);
    },
  });
}

/** null when there was none. */
export const useRun = (job: string, film: string, roll: string, cut: boolean) =>
  useQuery({
    queryKey: ["job", job, "run", film, roll],
    queryFn: async () =>
      (
        await answerOf(
          client.GET("/jobs/{job}/run", { params: { path: { job }, query: { film, roll } } }),
        )
      ).run ?? null,
    enabled: cut,
  });

/** What a run changes is asked again: itself, the job, the stock; the path stays. */
export function useRunChanged(job: string) {
  const queries = useQueryClient();
  return useCallback(async () => {
    const keys = [["job", job, "run"], ["rolls"], ["stock"], ["jobs"]];
    await queries.invalidateQueries({ queryKey: ["job", job], exact: true });
    await Promise.all(keys.map((queryKey) => queries.invalidateQueries({ queryKey })));
  }, [queries, job]);
}

export type RunOrder =
  | { step: "start"; film: string; roll: string }
  | { step: "resume"; run: string; cut: number[]; uncut: number[] }
  | { step: "confirm"; run: string }
  | { step: "giveUp"; run: string; reason: string };

/** Steps of a cutting run; each answers with the run as it is then. */
export function useRunStep(job: string) {
  const queries = useQueryClient();
  const changed = useRunChanged(job);
  return useMutation({
    mutationFn: (order: RunOrder) => answerOf<Run>(askFor(job, order)),
    onSuccess: async (run) => {
      queries.setQueryData(["job", job, "run", run.film, run.roll], run);
      await changed();
    },
  });
}

function askFor(job: string, order: RunOrder) {
  if (order.step === "start")
    return client.POST("/jobs/{job}/run", {
      params: { path: { job } },
      body: { film: order.film, roll: order.roll },
    });
  const params = { path: { run: order.run } };
  if (order.step === "resume")
    return client.POST("/runs/{run}/resume", {
      params,
      body: { cut: order.cut, uncut: order.uncut },
    });
  if (order.step === "confirm")
    return client.POST("/runs/{run}/confirm", {
      params,
      headers: { "Content-Type": "application/json" },
    });
  return client.POST("/runs/{run}/give-up", { params, body: { reason: order.reason } });
}

export function useRelease(job: string) {
  const changed = useRunChanged(job);
  return useMutation({
    mutationFn: () =>
      answerOf(
        client.POST("/jobs/{job}/state", { params: { path: { job } }, body: { to: "released" } }),
      ),
    onSuccess: changed,
  });
}

export const asProblem = (error: unknown): ServerProblem =>
  error instanceof ServerProblem ? error : new ServerProblem("failed", String(error));

/** A photo of a template on the marker board, with what was measured; lengths in mm. */
export interface PhotoOrder {
  photo: File;
  name: string;
  check: number;
  checkAcross: number | undefined;
  thickness: number;
}

export const useTracePhoto = () =>
  useMutation({
    mutationFn: ({ photo, name, check, checkAcross, thickness }: PhotoOrder) =>
      answerOf(
        client.POST("/photo-outlines", {
          params: {
            query: {
              name,
              check_mm: check,
              ...(checkAcross === undefined ? {} : { check_across_mm: checkAcross }),
              thickness_mm: thickness,
            },
          },
          headers: { "Content-Type": photo.type === "image/png" ? "image/png" : "image/jpeg" },
          body: "",
          bodySerializer: () => photo,
        }),
      ),
  });
