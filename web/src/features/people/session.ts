import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client } from "@/api/client";
import type { components } from "@/api/schema.gen";
import type { Role } from "@/api/session";
import { keptAnswers } from "@/features/card/shell";

export type Person = components["schemas"]["Person"];
export const roles: readonly Role[] = ["lead", "cutter", "installer", "desk", "reader"];

export const usePeople = () =>
  useQuery({
    queryKey: ["people"],
    queryFn: async () => (await answerOf(client.GET("/people"))).people,
  });

/** What changes who is signed in: everything read before is forgotten. */
export function useSessionChange<Order>(change: (order: Order) => Promise<unknown>) {
  const queries = useQueryClient();
  return useMutation({ mutationFn: change, onSuccess: () => queries.resetQueries() });
}

export const signIn = (body: { sign_in?: string; password?: string; person?: string }) =>
  answerOf(client.POST("/session", { body }));

/** Also on this machine: what the page kept for the time without a network goes. */
export const signOut = async () => {
  const answer = await answerOf(client.DELETE("/session"));
  if ("caches" in window) await caches.delete(keptAnswers);
  return answer;
};

/** A change of the list of people. */
export function usePeopleChange<Order>(change: (order: Order) => Promise<unknown>) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: change,
    onSettled: () => queries.invalidateQueries({ queryKey: ["people"] }),
  });
}
