import { Button, Select } from "@mantine/core";
import { useMemo, useState } from "react";
import { Link, useLocation, useSearch } from "wouter";
import { cutFileAddress, type Cut, type Job, type Layout, type Profile } from "@/api/client";
import { useCut, useFilms, useLayout, usePlanCut, useProfiles } from "@/api/queries";
import { FilmSelect } from "@/parts/film_select";
import { RollChoice } from "@/parts/roll_choice";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Icon } from "@/ui/icon";
import { Empty, Note } from "@/ui/note";
import { PaperLinks } from "@/parts/paper_links";
import { useReader } from "@/words/preferences";
import { Replay } from "./replay";
import { RunPanel } from "./run_panel";
import classes from "./knife.module.css";

const forms = ["svg", "dxf", "pdf"] as const;

/** The knife's way over the roll: planned here, replayed, and taken as a file. */
export default function KnifePage({ job }: { job: Job }) {
  const { words } = useReader();
  const [path, go] = useLocation();
  const film = new URLSearchParams(useSearch()).get("film") ?? job.film;
  const entry = job.films.find((one) => one.film === film);
  const films = useFilms();
  const profiles = useProfiles();
  const [chosenRoll, setChosenRoll] = useState<string>();
  const layouts = entry?.layouts ?? [];
  const lying = layouts.find(({ roll }) => roll === chosenRoll) ?? layouts[0];
  const roll = lying?.roll ?? "";
  const layout = useLayout(job.id, film, entry?.has_layout ?? false, roll);
  const cut = useCut(job.id, film, lying?.has_cut ?? false, roll);
  const plan = usePlanCut(job.id);
  const [chosen, setChosen] = useState<string>();
  const profile =
    profiles.data?.find(({ id }) => id === (chosen ?? cut.data?.profile)) ?? profiles.data?.[0];
  const fault = plan.error ?? cut.error ?? layout.error ?? profiles.error;

  const names = useMemo(
    () => new Map(layout.data?.placements.map(({ piece, name }) => [piece, name])),
    [layout.data],
  );

  const controls = (
    <>
      <FilmSelect
        job={job}
        films={films.data}
        film={film}
        onFilm={(id) => go(`${path}?film=${encodeURIComponent(id)}`, { replace: true })}
      />
      {layouts.length > 1 && <RollChoice layouts={layouts} roll={roll} onRoll={setChosenRoll} />}
      <Select
        label={words.knifePage.profile}
        value={profile?.id ?? null}
        onChange={(value) => value !== null && setChosen(value)}
        allowDeselect={false}
        data={(profiles.data ?? []).map(({ id, name }) => ({ value: id, label: name }))}
      />
      <Button
        variant={cut.data ? "default" : "filled"}
        loading={plan.isPending}
        disabled={!entry?.has_layout || !profile}
        onClick={() => profile && plan.mutate({ profile: profile.id, film })}
      >
        {cut.data ? words.knifePage.planAgain : words.knifePage.plan}
      </Button>
      {fault && <Trouble error={fault} />}
      {cut.data && (
        <>
          <CutFigures cut={cut.data} />
          <RunPanel job={job} film={film} roll={roll} names={names} />
          <Files job={job.id} film={film} roll={roll} />
        </>
      )}
      <Note tone="caution" lines={words.cautions.knife} />
    </>
  );

  if (cut.data && profile)
    return (
      <Replay key={cut.data.made} {...{ cut: cut.data, layout: layout.data, profile, controls }} />
    );
  return (
    <div className={classes.page}>
      <aside className={classes.side}>
        <h1>{words.knifePage.title}</h1>
        {controls}
      </aside>
      <section className={classes.picture}>
        {entry?.has_layout ? (
          <Empty title={words.knifePage.empty}>
            <p>{words.knifePage.emptyText}</p>
          </Empty>
        ) : (
          <Empty title={words.knifePage.needsLayout}>
            <p>{words.knifePage.needsLayoutText}</p>
            <Button
              component={Link}
              href={`/jobs/${encodeURIComponent(job.id)}/roll?film=${encodeURIComponent(film)}`}
            >
              {words.knifePage.toRoll}
            </Button>
          </Empty>
        )}
      </section>
    </div>
  );
}

export interface ReplayProps {
  cut: Cut;
  layout: Layout | undefined;
  profile: Profile;
  controls: React.ReactNode;
}

function CutFigures({ cut }: { cut: Cut }) {
  const { words, format } = useReader();
  return (
    <div className={classes.figures}>
      <Figure label={words.knifePage.time} value={format.duration(cut.estimated_seconds)} />
      <Figure label={words.knifePage.contours} value={cut.contours.length} />
      <Figure size="small" label={words.knifePage.cut} value={format.rollLength(cut.cut_mm)} />
      <Figure
        size="small"
        label={words.knifePage.travel}
        value={format.rollLength(cut.travel_mm)}
      />
    </div>
  );
}

function Files({ job, film, roll }: { job: string; film: string; roll: string }) {
  const { words } = useReader();
  return (
    <div className={classes.files}>
      <Button
        component="a"
        href={cutFileAddress(job, film, roll, "plt")}
        download
        leftSection={<Icon name="down" />}
      >
        {words.knifePage.forms.plt}
      </Button>
      <ul>
        {forms.map((form) => (
          <li key={form}>
            <a href={cutFileAddress(job, film, roll, form)} download>
              {words.knifePage.forms[form]}
            </a>
          </li>
        ))}
      </ul>
      <PaperLinks job={job} />
    </div>
  );
}
