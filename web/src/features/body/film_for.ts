import type { Film, Job, Panel } from "@/api/client";

/** The film a panel gets in this job; outside the job, the first that suits its finish. */
export function filmFor(panel: Panel, job: Job, films: readonly Film[]): Film | undefined {
  const entry = job.scope.find((one) => one.panel === panel.id);
  return (
    films.find(({ id }) => id === entry?.film) ??
    films.find(({ suits }) => suits.includes(panel.finish)) ??
    films.find(({ id }) => id === job.film)
  );
}
