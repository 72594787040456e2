import { useQueryClient } from "@tanstack/react-query";
import { useCallback, useEffect, useRef, useState } from "react";
import { answerOf, client, ServerProblem } from "@/api/client";
import { openOutbox, type Outbox, type Report, sendAll, type Sent } from "./outbox";

const again = 4_000; // ms until the next try

async function send(report: Report): Promise<Sent> {
  const { id, job, panel, word, at, text, source, lot, photo } = report;
  const path = { job };
  try {
    if (word === "photo")
      await answerOf(
        client.POST("/jobs/{job}/card-photos", {
          params: { path, query: { id, panel, text: text ?? panel, at } },
          body: photo as unknown as string,
          bodySerializer: (body) => body,
          headers: { "Content-Type": photo?.type ?? "image/jpeg" },
        }),
      );
    else
      await answerOf(
        client.POST("/jobs/{job}/card-events", {
          params: { path },
          body: {
            id,
            panel,
            word,
            at,
            ...(text !== undefined && { text }),
            ...(source !== undefined && { source }),
            ...(lot !== undefined && { lot }),
          },
        }),
      );
    return "taken";
  } catch (fault) {
    if (!(fault instanceof ServerProblem) || fault.code === "unreachable") return "unreachable";
    return { refused: [fault.message, fault.remedy].filter(Boolean).join(". ") };
  }
}

/** The reports of a job that wait to be sent; sends them whenever the server can be reached. */
export function useOutbox(job: string) {
  const queries = useQueryClient();
  const [reports, setReports] = useState<readonly Report[]>([]);
  const [reached, setReached] = useState(true);
  const box = useRef<Outbox>(undefined);
  const busy = useRef(false);

  const look = useCallback(async () => {
    box.current ??= openOutbox();
    setReports((await box.current.all()).filter((report) => report.job === job));
  }, [job]);

  const flush = useCallback(async () => {
    if (busy.current) return;
    busy.current = true;
    try {
      box.current ??= openOutbox();
      const before = (await box.current.all()).length;
      const all = await sendAll(box.current, send);
      setReached(all);
      // The cards are asked for before what waits is dropped from sight: nothing flickers.
      if (before > 0 && all)
        await queries.invalidateQueries({ queryKey: ["job", job], exact: false });
      await look();
    } finally {
      busy.current = false;
    }
  }, [job, look, queries]);

  useEffect(() => {
    const now = () => void flush();
    now();
    window.addEventListener("online", now);
    const timer = setInterval(now, again);
    return () => {
      window.removeEventListener("online", now);
      clearInterval(timer);
    };
  }, [flush]);

  const report = useCallback(
    async (what: Omit<Report, "id" | "job" | "at">) => {
      box.current ??= openOutbox();
      await box.current.put({
        ...what,
        id: newId(),
        job,
        at: `${new Date().toISOString().slice(0, 19)}Z`,
      });
      await look();
      void flush();
    },
    [job, look, flush],
  );
  const discard = useCallback(
    async (id: string) => {
      await box.current?.remove(id);
      await look();
    },
    [look],
  );
  return { reports, reached, report, discard };
}

/** randomUUID wants a secure connection; a tablet in the shop may have none. */
const newId = () =>
  [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");
