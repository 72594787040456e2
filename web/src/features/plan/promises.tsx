import type { Plan, PlanJob } from "@/api/plan";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { hueOf } from "./board";
import { moment } from "./scale";
import classes from "./plan.module.css";

const sureEnough = 0.9;

/** What was promised, what is at risk, and what comes next for each vehicle. */
export function Promises({ plan, choose }: { plan: Plan; choose: (job: string) => void }) {
  const { words } = useReader();
  const jobs = [...plan.jobs].sort((a, b) => (a.promise ?? "9").localeCompare(b.promise ?? "9"));
  return (
    <Sheet title={words.plan.promises}>
      <ul className={classes.promises}>
        {jobs.map((job) => (
          <li key={job.id} style={{ "--hue": hueOf(plan, job.id) } as React.CSSProperties}>
            <button type="button" onClick={() => choose(job.id)}>
              <strong>{job.title}</strong>
              <Standing job={job} />
              <Next job={job} />
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

function Standing({ job }: { job: PlanJob }) {
  const { words, format } = useReader();
  if (!job.end) return <span data-tone="fault">{words.plan.noPlace(job.title)}</span>;
  if (!job.promise) return <span>{words.plan.ends(format.moment(job.end))}</span>;
  const promise = format.moment(job.promise);
  if (!job.kept) {
    const late = format.lasting((moment(job.end) - moment(job.promise)) / 60_000);
    return <span data-tone="fault">{words.plan.late(promise, late)}</span>;
  }
  const chance = Math.round(100 * (job.chance ?? 1));
  if ((job.chance ?? 1) < sureEnough)
    return (
      <span data-tone="caution">
        {words.plan.atRisk(promise, chance, job.sure ? format.moment(job.sure) : "–")}
      </span>
    );
  return <span>{words.plan.holds(promise, chance)}</span>;
}

function Next({ job }: { job: PlanJob }) {
  const { words, format } = useReader();
  const [next] = job.tasks
    .filter(({ state, from }) => state !== "finished" && from)
    .sort((a, b) => (a.from ?? "").localeCompare(b.from ?? ""));
  if (!next?.from) return null;
  return (
    <small>
      {next.state === "begun"
        ? words.plan.underWay(next.id, next.people.join(", "))
        : words.plan.next(next.id, format.moment(next.from))}
    </small>
  );
}
