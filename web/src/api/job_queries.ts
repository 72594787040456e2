import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client, type Job, type JobState } from "./client";
import { useJobChanged } from "./queries";

export const useHistory = (job: string) =>
  useQuery({
    queryKey: ["job", job, "history"],
    queryFn: async () =>
      (await answerOf(client.GET("/jobs/{job}/history", { params: { path: { job } } }))).entries,
    staleTime: 0, // every other page writes to it
  });

/** Moves the job as it was read; refused when somebody else changed it first. */
export function useMoveJob({ id: job, revision }: Pick<Job, "id" | "revision">) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: ({ to, reason }: { to: JobState; reason: string }) =>
      answerOf(
        client.POST("/jobs/{job}/state", {
          params: { path: { job } },
          body: { to, revision, ...(reason && { reason }) },
        }),
      ),
    onSettled: changed,
  });
}

export const useJobCustomer = (job: string) =>
  useQuery({
    queryKey: ["job", job, "customer"],
    queryFn: () => answerOf(client.GET("/jobs/{job}/customer", { params: { path: { job } } })),
  });

export function useLinkCustomer({ id: job, revision }: Pick<Job, "id" | "revision">) {
  const changed = useJobChanged(job);
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: { customer: string; vehicle: string }) =>
      answerOf(
        client.POST("/jobs/{job}/customer", {
          params: { path: { job } },
          body: { ...body, revision },
        }),
      ),
    onSettled: async () => {
      await changed();
      await queries.invalidateQueries({ queryKey: ["customer"] });
    },
  });
}

export const useCustomers = (start: string, enabled = true) =>
  useQuery({
    queryKey: ["customers", start],
    queryFn: async () =>
      (await answerOf(client.GET("/customers", { params: { query: { start } } }))).customers,
    placeholderData: (before) => before,
    enabled,
  });

export const useCustomer = (id: string) =>
  useQuery({
    queryKey: ["customer", id],
    queryFn: () =>
      answerOf(client.GET("/customers/{customer}", { params: { path: { customer: id } } })),
    enabled: id !== "",
  });

export const useLinks = (job: string) =>
  useQuery({
    queryKey: ["job", job, "links"],
    queryFn: async () =>
      (await answerOf(client.GET("/jobs/{job}/links", { params: { path: { job } } }))).links,
  });

function useLinksChanged(job: string) {
  const queries = useQueryClient();
  return () => queries.invalidateQueries({ queryKey: ["job", job, "links"] });
}

export function useShareJob(job: string) {
  const changed = useLinksChanged(job);
  return useMutation({
    mutationFn: (days: number) =>
      answerOf(client.POST("/jobs/{job}/links", { params: { path: { job } }, body: { days } })),
    onSuccess: changed,
  });
}

export function useEndLink(job: string) {
  const changed = useLinksChanged(job);
  return useMutation({
    mutationFn: (link: string) =>
      answerOf(client.DELETE("/jobs/{job}/links/{link}", { params: { path: { job, link } } })),
    onSettled: changed,
  });
}
