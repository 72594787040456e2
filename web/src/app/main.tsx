import "@fontsource-variable/archivo/wdth.css";
import "./mantine.css";
import "./tokens.css";
import { MantineProvider } from "@mantine/core";
import { QueryClient, QueryClientProvider } from "@tanstack/react-query";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { ServerProblem } from "@/api/client";
import { Door } from "@/features/people/door";
import { ReaderProvider } from "@/words/preferences";
import { App } from "./app";
import { theme, variables } from "./theme";

const queries = new QueryClient({
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

const root = document.getElementById("root");
if (!root) throw new Error("index.html has no #root");
createRoot(root).render(
  <StrictMode>
    <MantineProvider theme={theme} cssVariablesResolver={variables} defaultColorScheme="auto">
      <QueryClientProvider client={queries}>
        <ReaderProvider>
          <Door>
            <App />
          </Door>
        </ReaderProvider>
      </QueryClientProvider>
    </MantineProvider>
  </StrictMode>,
);
