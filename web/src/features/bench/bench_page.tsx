import { Button } from "@mantine/core";
import { Link } from "wouter";
import type { Film, Job, Roll } from "@/api/client";
import { useFilms, useJobs, useRolls, useShop, useVehicles } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { useReader } from "@/words/preferences";
import { isLow, nextStep } from "./attention";
import { FirstStart } from "./first_start";
import { Today } from "./today";
import classes from "./bench.module.css";

/** The front page: the shop's jobs, each with its next step, and the film in stock. */
export function BenchPage() {
  const { words } = useReader();
  const shop = useShop();
  const jobs = useJobs();
  const films = useFilms();
  const rolls = useRolls();
  const vehicles = useVehicles();
  const fault = shop.error ?? jobs.error ?? films.error ?? rolls.error;
  const nameOf = (vehicle: string) =>
    vehicles.data?.find(({ id }) => id === vehicle)?.name ?? vehicle;
  return (
    <div className={classes.page}>
      <header className={classes.head}>
        <h1>{shop.data?.name ?? "\u00a0"}</h1>
        <p>{shop.data?.demo ? words.demoShop : "\u00a0"}</p>
        <Button component={Link} href="/counter" size="md">
          {words.counter.title}
        </Button>
      </header>
      {fault && <Trouble error={fault} again={() => void jobs.refetch()} />}
      {jobs.data?.length === 0 && vehicles.data && rolls.data ? (
        <FirstStart vehicles={vehicles.data.length} rolls={rolls.data.length} />
      ) : (
        <Today jobs={jobs.data ?? []} rolls={rolls.data ?? []} films={films.data} />
      )}
      <section className={classes.jobs} aria-label={words.benchPage.jobs}>
        <h2>{words.benchPage.jobs}</h2>
        {jobs.data?.map((job) => (
          <JobCard key={job.id} job={job} vehicle={nameOf(job.vehicle)} films={films.data} />
        ))}
      </section>
      <section id="stock" className={classes.stock} aria-label={words.benchPage.stock}>
        <h2>
          <Link href="/stock">{words.benchPage.stock}</Link>
        </h2>
        <ul>
          {rolls.data?.map((roll) => (
            <RollRow key={roll.id} roll={roll} film={films.data?.find((f) => f.id === roll.film)} />
          ))}
        </ul>
      </section>
    </div>
  );
}

function JobCard({
  job,
  vehicle,
  films,
}: {
  job: Job;
  vehicle: string;
  films: readonly Film[] | undefined;
}) {
  const { words, format } = useReader();
  const base = `/jobs/${encodeURIComponent(job.id)}`;
  const next = nextStep(job);
  const main = job.films.find(({ film }) => film === job.film);
  return (
    <article className={classes.job}>
      <div className={classes.jobHead}>
        <h3>
          <Link href={`${base}/body`}>{job.title}</Link>
        </h3>
        <p>
          {[job.customer, vehicle].filter(Boolean).join(" · ")}
          <br />
          {job.id} · {words.states[job.state]}
        </p>
      </div>
      <div className={classes.figures}>
        <Figure label={words.bodyPage.panelsCovered} value={job.scope.length} />
        <Figure
          label={words.benchPage.used}
          value={main?.length_mm === undefined ? "–" : format.rollLength(main.length_mm)}
        />
        <Figure
          label={words.benchPage.waste}
          value={main?.waste === undefined ? "–" : format.percent(main.waste)}
        />
      </div>
      <ul className={classes.films}>
        {job.films.map(({ film, panels, has_layout, has_cut }) => (
          <li key={film}>
            <i
              style={{ background: films?.find(({ id }) => id === film)?.colour }}
              aria-hidden="true"
            />
            {films?.find(({ id }) => id === film)?.name ?? film}
            <span>
              {words.benchPage.panels(panels)},{" "}
              {has_cut
                ? words.states.cut_planned
                : has_layout
                  ? words.states.laid_out
                  : words.benchPage.notLaid}
            </span>
          </li>
        ))}
      </ul>
      <Link className={classes.next} href={`${base}/${next === "done" ? "job" : next}`}>
        {words.benchPage.next[next]}
      </Link>
    </article>
  );
}

function RollRow({ roll, film }: { roll: Roll; film: Film | undefined }) {
  const { words, format } = useReader();
  const share = roll.remaining_mm / Math.max(roll.length_mm, 1);
  return (
    <li className={classes.roll}>
      <div>
        <strong>{film?.name ?? roll.film}</strong>
        <span>
          {roll.id} · {words.benchPage.lot} {roll.lot} · {format.length(roll.width_mm, 0)} ·{" "}
          {roll.place}
        </span>
      </div>
      <div className={classes.left} data-low={isLow(roll)}>
        <b>{format.rollLength(roll.remaining_mm)}</b>
        <span className={classes.gauge} aria-hidden="true">
          <i style={{ width: `${share * 100}%` }} />
        </span>
      </div>
    </li>
  );
}
