import { ActionIcon, useComputedColorScheme, useMantineColorScheme } from "@mantine/core";
import { Link, useLocation } from "wouter";
import type { Job } from "@/api/client";
import { useSearchPlace } from "@/parts/search";
import { PersonMenu } from "@/features/people/person_menu";
import { DropMenu } from "@/ui/drop_menu";
import { Icon } from "@/ui/icon";
import { languages, type Language, useReader } from "@/words/preferences";
import { Find } from "./find";
import { UnitSwitch } from "./unit_switch";
import classes from "./app.module.css";

export const steps = [
  "job",
  "body",
  "glass",
  "pieces",
  "roll",
  "knife",
  "card",
  "handover",
] as const;

/** The shop's own pages; within a job its steps stand here instead. */
const places = ["/counter", "/offer", "/plan", "/stock", "/customers", "/aftercare"] as const;

/** The bar over every page: where one is, the steps of the job, how things are shown. */
export function Bar({ job, step }: { job?: Job | string; step?: string }) {
  const { words } = useReader();
  const [place] = useLocation();
  const id = typeof job === "string" ? job : job?.id;
  return (
    <header className={classes.bar}>
      <a href="#page" className={classes.skip}>
        {words.skip}
      </a>
      <Link href="/" className={classes.mark} aria-label={`${words.program}: ${words.bench}`}>
        <img src="/mark.svg" alt="" width={30} height={30} />
        <span>{words.program}</span>
      </Link>
      {!id && (
        <nav className={`${classes.steps} ${classes.places}`} aria-label={words.places.all}>
          {places.map((to) => (
            <Link key={to} href={to} aria-current={place === to ? "page" : undefined}>
              {words.places[to]}
            </Link>
          ))}
        </nav>
      )}
      <div className={classes.job}>
        {typeof job === "object" && (
          <>
            <strong title={job.title}>{job.title}</strong>
            <span>
              {job.id} · {words.states[job.state]}
            </span>
          </>
        )}
      </div>
      {id && <Steps job={id} step={step} />}
      <Find />
      <Settings />
    </header>
  );
}

function Steps({ job, step }: { job: string; step: string | undefined }) {
  const { words } = useReader();
  const { search } = useSearchPlace();
  return (
    <nav className={classes.steps} aria-label={words.stepsOfJob}>
      {steps.map((name) => (
        <Link
          key={name}
          href={`/jobs/${encodeURIComponent(job)}/${name}`}
          aria-current={name === step ? "page" : undefined}
          title={words.stepHints[name]}
        >
          {words.steps[name]}
          {name === "roll" && search && (
            <i
              className={classes.searching}
              style={{ width: `${100 * Math.max(0.03, search.progress.fraction)}%` }}
            />
          )}
        </Link>
      ))}
    </nav>
  );
}

function Settings() {
  const { words, language, change } = useReader();
  const { setColorScheme } = useMantineColorScheme();
  const scheme = useComputedColorScheme("light");
  return (
    <div className={classes.settings}>
      <UnitSwitch />
      <DropMenu
        label={words.settings.language}
        lines={Object.entries(languages).map(([key, name]) => ({
          name,
          lang: key,
          onClick: () => change({ language: key as Language }),
        }))}
      >
        <span className={classes.language}>{language.toUpperCase()}</span>
      </DropMenu>
      <ActionIcon
        variant="subtle"
        size={36}
        aria-label={scheme === "dark" ? words.settings.toLight : words.settings.toDark}
        onClick={() => setColorScheme(scheme === "dark" ? "light" : "dark")}
      >
        <Icon name={scheme === "dark" ? "sun" : "moon"} />
      </ActionIcon>
      <PersonMenu />
    </div>
  );
}
