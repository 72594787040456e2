import { useMemo, useState } from "react";
import { Link, useLocation, useSearch } from "wouter";
import { Button } from "@mantine/core";
import type { Job, Layout, LiveLayout } from "@/api/client";
import { useFilms, useLayout, usePieces, useRolls } from "@/api/queries";
import { FilmSelect } from "@/parts/film_select";
import { RollView } from "@/parts/roll_view";
import { useSearchPlace } from "@/parts/search";
import { Trouble } from "@/parts/trouble";
import { ZoneLegend } from "@/parts/zone_legend";
import { Figure } from "@/ui/figure";
import { Empty, Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { keptShapes, liveShapes, pieceShapes } from "./laid_shapes";
import { PieceIndex } from "./piece_index";
import { SearchControls } from "./search_controls";
import classes from "./roll.module.css";

/** The job's pieces of one film on a roll: laid out here and watched while it gets better. */
export default function RollPage({ job }: { job: Job }) {
  const { words } = useReader();
  const [path, go] = useLocation();
  const film = new URLSearchParams(useSearch()).get("film") ?? job.film;
  const entry = job.films.find((one) => one.film === film);
  const films = useFilms();
  const rolls = useRolls();
  const pieces = usePieces(job.id);
  const layout = useLayout(job.id, film, entry?.has_layout ?? false);
  const { search, error, begin, stop, starting } = useSearchPlace();
  const [picked, setPicked] = useState<string>();
  const [chosenRoll, setChosenRoll] = useState<string>();

  const suitable = (rolls.data ?? []).filter((roll) => roll.film === film);
  const roll =
    suitable.find(({ id }) => id === chosenRoll) ??
    suitable.find(({ id }) => id === layout.data?.roll) ??
    [...suitable].sort((a, b) => b.remaining_mm - a.remaining_mm)[0];

  const live = search?.film === film ? search : undefined;
  const byPiece = useMemo(() => pieceShapes(pieces.data?.pieces ?? []), [pieces.data]);
  const kept = useMemo(() => layout.data && keptShapes(layout.data), [layout.data]);
  const better = live?.layout;
  const shapes = useMemo(
    () => (better ? liveShapes(better, byPiece) : (kept ?? [])),
    [better, byPiece, kept],
  );
  const shown = better ?? layout.data;
  const fault = error ?? layout.error ?? pieces.error ?? rolls.error;

  return (
    <div className={classes.page}>
      <aside className={classes.side}>
        <h1>{words.rollPage.title}</h1>
        <FilmSelect
          job={job}
          films={films.data}
          film={film}
          onFilm={(id) => {
            setPicked(undefined);
            go(`${path}?film=${encodeURIComponent(id)}`, { replace: true });
          }}
        />
        <SearchControls
          rolls={suitable}
          roll={roll}
          onRoll={setChosenRoll}
          search={live}
          busy={search !== undefined || starting}
          again={layout.data !== undefined}
          onStart={(seconds) => begin({ film, seconds, ...(roll && { roll: roll.id }) })}
          onStop={stop}
        />
        {fault !== null && fault !== undefined && (
          <Trouble error={fault} again={() => void layout.refetch()} />
        )}
        <Used shown={shown} laid={shapes.length} remaining={roll?.remaining_mm} />
        {!live && layout.data && <Verdict layout={layout.data} />}
        <PieceIndex shapes={shapes} picked={picked} onPick={setPicked} />
        <Button
          component={Link}
          href={`/jobs/${encodeURIComponent(job.id)}/knife?film=${encodeURIComponent(film)}`}
          variant="default"
          data-disabled={!layout.data || live ? true : undefined}
          aria-disabled={!layout.data || live !== undefined}
        >
          {words.rollPage.toKnife}
        </Button>
      </aside>
      <section className={classes.picture} aria-busy={live !== undefined}>
        {shown ? (
          <>
            <RollView
              key={film}
              label={words.rollPage.picture}
              width={shown.width_mm}
              length={shown.length_mm}
              shapes={shapes}
              picked={picked}
              onPick={setPicked}
              names
            />
            <div className={classes.legend}>
              <ZoneLegend zones={shapes.map(({ zone }) => zone)} />
            </div>
          </>
        ) : (
          <Empty title={live ? words.rollPage.searching : words.rollPage.empty}>
            <p>{words.rollPage.emptyText}</p>
          </Empty>
        )}
      </section>
    </div>
  );
}

interface UsedProps {
  shown: Layout | LiveLayout | undefined;
  laid: number;
  remaining: number | undefined;
}

function Used({ shown, laid, remaining }: UsedProps) {
  const { words, format } = useReader();
  const unknown = "–";
  return (
    <div className={classes.used}>
      <Figure
        size="large"
        label={words.rollPage.used}
        value={shown ? format.rollLength(shown.length_mm) : unknown}
      />
      <Figure
        size="large"
        label={words.rollPage.waste}
        value={shown ? format.percent(shown.waste) : unknown}
      />
      <Figure size="small" label={words.rollPage.pieces} value={shown ? laid : unknown} />
      <Figure
        size="small"
        label={words.rollPage.left}
        value={
          shown && remaining !== undefined
            ? format.rollLength(Math.max(0, remaining - shown.length_mm))
            : unknown
        }
      />
    </div>
  );
}

function Verdict({ layout }: { layout: Layout }) {
  const { words } = useReader();
  return (
    <>
      {layout.verified ? (
        <p className={classes.verdict}>{words.rollPage.done}</p>
      ) : (
        <Note tone="caution" lines={[words.rollPage.unchecked]} />
      )}
      {layout.unplaced.length > 0 && (
        <Note
          tone="caution"
          lines={[
            words.rollPage.unplaced,
            ...layout.unplaced.map(({ piece, reason }) => `${piece}: ${reason}`),
          ]}
        />
      )}
    </>
  );
}
