import type { Film, Job, Vehicle } from "@/api/client";
import { Figure } from "@/ui/figure";
import { useReader } from "@/words/preferences";
import classes from "./body.module.css";

interface SummaryProps {
  job: Job;
  vehicle: Vehicle | undefined;
  films: readonly Film[] | undefined;
}

/** What the study's place shows before a panel is picked: the job, and what to do here. */
export function Summary({ job, vehicle, films }: SummaryProps) {
  const { words, format } = useReader();
  const areas = new Map(vehicle?.panels.map((panel) => [panel.id, panel.area_mm2]));
  const areaOf = (film?: string) =>
    job.scope
      .filter((entry) => film === undefined || entry.film === film)
      .reduce((sum, entry) => sum + (areas.get(entry.panel) ?? 0), 0);
  return (
    <div className={classes.summary}>
      <h1>{words.bodyPage.pickTitle}</h1>
      <p className={classes.lead}>{words.bodyPage.pickText}</p>
      <h2>{words.bodyPage.summary}</h2>
      <div className={classes.figures}>
        <Figure label={words.bodyPage.panelsCovered} value={job.scope.length} size="large" />
        <Figure label={words.bodyPage.area} value={format.area(areaOf())} size="large" />
      </div>
      <ul className={classes.films}>
        {job.films.map(({ film: id, panels }) => {
          const film = films?.find((one) => one.id === id);
          return (
            <li key={id}>
              <i style={{ background: film?.colour }} aria-hidden="true" />
              <span>{film?.name ?? id}</span>
              <span>{words.benchPage.panels(panels)}</span>
              <span>{format.area(areaOf(id))}</span>
            </li>
          );
        })}
      </ul>
    </div>
  );
}
