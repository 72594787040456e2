import { QueryClient } from "@tanstack/react-query";
import { ServerProblem } from "@/api/client";
import { filmsQuery, jobsQuery, rollsQuery, shopQuery, vehiclesQuery } from "@/api/queries";
import { sessionQuery } from "@/api/session";
import { formatter } from "@/words/format";

const patience = 300; // ms without an answer after which the page is drawn without it

export const queries = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: 15_000,
      refetchOnWindowFocus: false,
      // What the browser believes of the network is no reason not to ask: the server may be on
      // this machine, and the service worker keeps what a card needs.
      networkMode: "always",
      // What the server refuses stays refused; only silence is worth asking again.
      retry: (count, error) =>
        count < 2 && error instanceof ServerProblem && error.code === "unreachable",
    },
    mutations: { networkMode: "always" },
  },
});

/** Asks for what the front page shows at once: drawn with its answers it is drawn one time only. */
async function askForFront() {
  // Under way already, see index.html.
  await queries.prefetchQuery(sessionQuery);
  if (!queries.getQueryData(sessionQuery.queryKey)?.person || location.pathname !== "/") return;
  const asked = [
    queries.prefetchQuery(jobsQuery),
    queries.prefetchQuery(shopQuery),
    queries.prefetchQuery(filmsQuery),
    queries.prefetchQuery(rollsQuery),
    queries.prefetchQuery(vehiclesQuery),
  ];
  // The first number a browser writes takes it two hundred times as long as the next.
  formatter("en", "mm").percent(0);
  await Promise.all(asked);
}

export const firstAnswers = () =>
  Promise.race([askForFront(), new Promise((resolve) => setTimeout(resolve, patience))]);
