import { Anchor, Button } from "@mantine/core";
import { type Plan, useOpenFeed } from "@/api/plan";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { hueOf } from "./board";
import type { Chosen } from "./chosen";
import classes from "./plan.module.css";

/** Each person's list for the day, and a calendar that follows the plan. */
export function Today({ plan, choose }: { plan: Plan; choose: (chosen: Chosen) => void }) {
  const { words } = useReader();
  const feed = useOpenFeed();
  const day = plan.now.slice(0, 10);
  const listOf = (person: string) =>
    plan.jobs
      .flatMap((job) => job.tasks.map((task) => ({ job, task })))
      .filter(
        ({ task }) =>
          task.people.includes(person) &&
          (task.from ?? "9").slice(0, 10) <= day &&
          (task.until ?? "").slice(0, 10) >= day,
      )
      .sort((a, b) => (a.task.from ?? "").localeCompare(b.task.from ?? ""));
  return (
    <Sheet title={words.plan.today} className={classes.todaySheet}>
      <div className={classes.today}>
        {plan.people.map(({ id }) => (
          <section key={id} aria-label={id}>
            <h3>{id}</h3>
            <ol>
              {listOf(id).map(({ job, task }) => (
                <li
                  key={job.id + task.id}
                  data-state={task.state}
                  style={{ "--hue": hueOf(plan, job.id) } as React.CSSProperties}
                >
                  <button
                    type="button"
                    onClick={() => choose({ job: job.id, task: task.id, person: id })}
                  >
                    <time>{(task.from ?? "").slice(11)}</time>
                    {task.id}
                    <small>
                      {job.title}
                      {task.bay && ` · ${task.bay}`}
                    </small>
                  </button>
                </li>
              ))}
              {listOf(id).length === 0 && <li className={classes.free}>{words.plan.nothing}</li>}
            </ol>
            {feed.data && feed.variables === id ? (
              <Anchor size="xs" href={feed.data.href} download={`${id}.ics`}>
                {words.plan.feedOpen}
              </Anchor>
            ) : (
              <Button size="compact-xs" variant="subtle" onClick={() => feed.mutate(id)}>
                {words.plan.feed}
              </Button>
            )}
          </section>
        ))}
      </div>
    </Sheet>
  );
}
