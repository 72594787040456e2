import { useCallback, useEffect, useRef, useState } from "react";
import type { EditCheck, LayoutEdit } from "@/api/client";
import { checkLayout } from "@/api/queries";

/** Asks the server what an edited layout breaks, again and again while a hand moves: one question
 * at a time, always about the newest lay. */
export function useCheck(job: string) {
  const [found, setFound] = useState<EditCheck>();
  const [error, setError] = useState<unknown>();
  const next = useRef<LayoutEdit>(undefined);
  const asking = useRef(false);
  const wanted = useRef(false); // false: the lay is the kept one again, late answers are void
  const gone = useRef(false);
  useEffect(() => {
    gone.current = false;
    return () => {
      gone.current = true;
    };
  }, []);

  const ask = useCallback(
    async (edit: LayoutEdit | undefined) => {
      next.current = edit;
      wanted.current = edit !== undefined;
      if (edit === undefined) setFound(undefined);
      if (asking.current) return;
      asking.current = true;
      while (next.current !== undefined && !gone.current) {
        const asked = next.current;
        next.current = undefined;
        try {
          const answer = await checkLayout(job, asked);
          if (!gone.current && wanted.current) setFound(answer);
          setError(undefined);
        } catch (fault) {
          setError(fault);
        }
      }
      asking.current = false;
    },
    [job],
  );
  return { found, error, ask };
}
