import { useEffect, useState } from "react";

export interface Wait {
  panel: string;
  label: string;
  ends: number; // ms since 1970
}

const keyOf = (job: string) => `filmwright.waits.${job}`;

function kept(job: string): Wait[] {
  try {
    return JSON.parse(localStorage.getItem(keyOf(job)) ?? "[]") as Wait[];
  } catch {
    return [];
  }
}

/** Waits that run on while other cards are looked at, and after the page was closed. */
export function useTimers(job: string) {
  const [waits, setWaits] = useState(() => kept(job));
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    localStorage.setItem(keyOf(job), JSON.stringify(waits));
    if (waits.length === 0) return;
    const timer = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(timer);
  }, [job, waits]);
  return {
    waits: waits.map((wait) => ({ ...wait, left: Math.max(0, (wait.ends - now) / 1000) })),
    start: (panel: string, label: string, seconds: number) => {
      setNow(Date.now());
      setWaits((before) => [...before, { panel, label, ends: Date.now() + 1000 * seconds }]);
    },
    end: (index: number) => setWaits((before) => before.filter((_, at) => at !== index)),
  };
}
