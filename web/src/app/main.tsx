import "@fontsource-variable/archivo/wdth.css";
import "./mantine.css";
import "./tokens.css";
import { MantineProvider } from "@mantine/core";
import { QueryClientProvider } from "@tanstack/react-query";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { Door } from "@/features/people/door";
import { ReaderProvider } from "@/words/preferences";
import { App } from "./app";
import { firstAnswers, queries } from "./first_answers";
import { theme, variables } from "./theme";

const root = document.getElementById("root");
if (!root) throw new Error("index.html has no #root");
void firstAnswers().then(() =>
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
  ),
);
