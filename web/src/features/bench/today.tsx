import { useQueries } from "@tanstack/react-query";
import { Link } from "wouter";
import type { Cards, Film, Job, JobGlass, Roll } from "@/api/client";
import { usePlan } from "@/api/plan";
import { cardsQuery, jobGlassQuery } from "@/api/queries";
import { Icon } from "@/ui/icon";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import { type Attention, attentionOf, nextStep } from "./attention";
import classes from "./bench.module.css";

interface TodayProps {
  jobs: readonly Job[];
  rolls: readonly Roll[];
  films: readonly Film[] | undefined;
}

const most = 12; // jobs that are looked into

/** What waits today: spoiled pieces, open decisions, film running low, and what comes next. */
export function Today({ jobs, rolls, films }: TodayProps) {
  const { words, format } = useReader();
  const open = jobs.filter((job) => nextStep(job) !== "done").slice(0, most);
  const glass = useQueries({ queries: open.map(({ id }) => jobGlassQuery(id)) });
  const plan = usePlan();
  const cards = useQueries({ queries: open.map(({ id }) => cardsQuery(id)) });
  const known = <T,>(answers: readonly { data: T | undefined }[]) =>
    new Map(
      open.flatMap((job, index): [string, T][] => {
        const data = answers[index]?.data;
        return data === undefined ? [] : [[job.id, data]];
      }),
    );
  const found = attentionOf({
    jobs: open,
    glass: known<JobGlass>(glass),
    cards: known<Cards>(cards),
    rolls,
    plan: plan.data?.jobs ?? [],
  });
  const filmOf = (id: string) => films?.find((film) => film.id === id)?.name ?? id;
  const lineOf = (one: Attention) => {
    switch (one.kind) {
      case "late":
        return {
          key: `late ${one.plan.id}`,
          href: "/plan",
          what: one.plan.end
            ? words.today.late(format.moment(one.plan.promise ?? ""), format.moment(one.plan.end))
            : words.today.noPlace(format.moment(one.plan.promise ?? "")),
          where: one.plan.title,
        };
      case "atRisk":
        return {
          key: `risk ${one.plan.id}`,
          href: "/plan",
          what: words.today.atRisk(
            format.moment(one.plan.promise ?? ""),
            format.percent(one.plan.chance ?? 0, 0),
          ),
          where: one.plan.title,
        };
      case "recut":
        return {
          key: `recut ${one.job.id}`,
          href: stepOf(one.job, "card"),
          what: words.today.recut(one.count),
          where: one.job.title,
        };
      case "decision":
        return {
          key: `decision ${one.job.id}`,
          href: stepOf(one.job, "glass"),
          what: words.glassPage.open(one.count),
          where: one.job.title,
        };
      case "lowFilm":
        return {
          key: `film ${one.roll.id}`,
          href: "/stock",
          what: words.today.low(format.rollLength(one.roll.remaining_mm)),
          where: `${filmOf(one.roll.film)}, ${one.roll.id}`,
        };
      case "next":
        return {
          key: `next ${one.job.id}`,
          href: stepOf(one.job, one.step),
          what: words.benchPage.next[one.step],
          where: one.job.title,
        };
    }
  };
  return (
    <section className={classes.today} aria-labelledby="today">
      <h2 id="today">{words.today.title}</h2>
      {found.length === 0 ? (
        <p className={classes.quiet}>{words.today.nothing}</p>
      ) : (
        <ol>
          {found.map((one) => {
            const { key, href, what, where } = lineOf(one);
            return (
              <li key={key} data-kind={one.kind}>
                <Icon name={one.kind === "next" ? "play" : "heed"} size={16} />
                <Link href={href}>{sentence(what).replace(/\.$/, "")}</Link>
                <span>{where}</span>
              </li>
            );
          })}
        </ol>
      )}
    </section>
  );
}

const stepOf = (job: Job, step: string) => `/jobs/${encodeURIComponent(job.id)}/${step}`;
