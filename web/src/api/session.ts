import { queryOptions, useQuery } from "@tanstack/react-query";
import { answerOf, client } from "./client";
import type { components } from "./schema.gen";

export type Role = components["schemas"]["Role"];

export const sessionQuery = queryOptions({
  queryKey: ["session"],
  queryFn: () => answerOf(client.GET("/session")),
});

export const useSession = () => useQuery(sessionQuery);

/** Whether the person who is signed in has one of these roles. */
export function useIsOne(...roles: readonly Role[]): boolean {
  const role = useSession().data?.person?.role;
  return role !== undefined && roles.includes(role);
}
