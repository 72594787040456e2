import { type ReactNode, useMemo, useState } from "react";
import { Link, useLocation, useSearch } from "wouter";
import { Button } from "@mantine/core";
import type { Clash, Job, Layout, LayoutEdit, LiveLayout } from "@/api/client";
import { useFilms, useLayout, usePieces, useRolls } from "@/api/queries";
import type { LaidShape } from "@/canvas/roll_picture";
import { FilmSelect } from "@/parts/film_select";
import { RecutSheet } from "@/parts/recut_sheet";
import { RollChoice } from "@/parts/roll_choice";
import { RollView } from "@/parts/roll_view";
import { useSearchPlace } from "@/parts/search";
import { Trouble } from "@/parts/trouble";
import { ZoneLegend } from "@/parts/zone_legend";
import { Figure } from "@/ui/figure";
import { Empty, Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { liveShapes, pieceShapes } from "./laid_shapes";
import { PieceIndex } from "./piece_index";
import { anyFilm, SearchControls } from "./search_controls";
import { TableView } from "./table_view";
import { type RollTable, usedBy, useTable } from "./use_table";
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
  const [shownRoll, setShownRoll] = useState<string>();
  const layouts = entry?.layouts ?? [];
  const lying = layouts.find(({ roll }) => roll === shownRoll)?.roll ?? "";
  const layout = useLayout(job.id, film, entry?.has_layout ?? false, lying);
  const { search, error, begin, stop, starting } = useSearchPlace();
  const [picked, setPicked] = useState<string>();
  const [chosenRoll, setChosenRoll] = useState<string>();
  const [seconds, setSeconds] = useState("20");
  const [carriedLength, setCarriedLength] = useState<number>();

  const suitable = (rolls.data ?? []).filter((roll) => roll.film === film);
  const fromAll = chosenRoll === anyFilm || (chosenRoll === undefined && layouts.length > 1);
  const roll =
    suitable.find(({ id }) => id === chosenRoll) ??
    suitable.find(({ id }) => id === layout.data?.roll) ??
    [...suitable].sort((a, b) => b.remaining_mm - a.remaining_mm)[0];

  const live = search?.film === film ? search : undefined;
  const byPiece = useMemo(() => pieceShapes(pieces.data?.pieces ?? []), [pieces.data]);
  const better = live?.layout;
  const found = useMemo(() => better && liveShapes(better, byPiece), [better, byPiece]);
  const [recutting, setRecutting] = useState(false);
  const spoiled = layout.data?.placements.find(({ piece, copy }) => `${piece} ${copy}` === picked);
  const fault = error ?? layout.error ?? pieces.error ?? rolls.error;
  const open = !live && job.state !== "released" && job.state !== "cancelled";

  const page = (table: RollTable | undefined) => {
    const shapes = found ?? table?.shapes ?? [];
    const run = (from?: LayoutEdit) => {
      const all = fromAll && !from;
      const on = from ? layout.data?.roll : roll?.id;
      setShownRoll(undefined);
      begin(
        { film, seconds: Number(seconds), from_all: all, ...(on && !all && { roll: on }) },
        from,
      );
    };
    // From the start of a search, so that the first layout only has to be drawn.
    const watched =
      better ?? (live && (layout.data ?? (roll && { width_mm: roll.width_mm, length_mm: 0 })));
    const used =
      better ??
      (layout.data && {
        ...layout.data,
        ...usedOf(layout.data, shapes, carriedLength),
      });
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
              setShownRoll(undefined);
              go(`${path}?film=${encodeURIComponent(id)}`, { replace: true });
            }}
          />
          <SearchControls
            rolls={suitable}
            roll={roll}
            fromAll={fromAll}
            onRoll={setChosenRoll}
            search={live}
            busy={search !== undefined || starting}
            again={layout.data !== undefined}
            seconds={seconds}
            onSeconds={setSeconds}
            // Locks and faults bind a new search as well, on the roll they were marked on.
            onStart={() =>
              run(
                table?.isBound && !fromAll && roll?.id === layout.data?.roll
                  ? table.searchFrom(true)
                  : undefined,
              )
            }
            onStop={stop}
          />
          {fault !== null && fault !== undefined && (
            <Trouble error={fault} again={() => void layout.refetch()} />
          )}
          {table?.error !== undefined && <Trouble error={table.error} />}
          {!live && layouts.length > 1 && (
            <RollChoice
              layouts={layouts}
              roll={lying || (layouts[0]?.roll ?? "")}
              onRoll={setShownRoll}
            />
          )}
          <Used shown={used} laid={shapes.length} remaining={roll?.remaining_mm} />
          {!live && layout.data && (
            <Verdict
              layout={layout.data}
              changed={table?.changed ?? false}
              clashes={table?.found?.clashes}
            />
          )}
          <PieceIndex shapes={shapes} picked={picked} onPick={setPicked} />
          {!live && spoiled && (
            <>
              <Button variant="default" onClick={() => setRecutting(true)}>
                {words.recut.open}
              </Button>
              {recutting && (
                <RecutSheet
                  job={job.id}
                  piece={spoiled.piece}
                  name={spoiled.name}
                  onClose={() => setRecutting(false)}
                />
              )}
            </>
          )}
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
          {watched || (layout.data && table) ? (
            <>
              {watched || !layout.data || !table ? (
                <RollView
                  key={film}
                  label={words.rollPage.picture}
                  width={watched?.width_mm ?? 0}
                  length={watched?.length_mm ?? 0}
                  shapes={shapes}
                  picked={picked}
                  onPick={setPicked}
                  names
                />
              ) : (
                <TableView
                  layout={layout.data}
                  table={table}
                  open={open}
                  picked={picked}
                  onPick={setPicked}
                  onLength={setCarriedLength}
                  onSqueeze={() => run(table.searchFrom(false))}
                />
              )}
              <div className={classes.legend}>
                <ZoneLegend zones={shapes.map(({ zone }) => zone)} />
              </div>
            </>
          ) : (
            <Empty title={words.rollPage.empty}>
              <p>{words.rollPage.emptyText}</p>
            </Empty>
          )}
        </section>
      </div>
    );
  };
  return layout.data ? (
    <WithTable key={`${film} ${lying}`} job={job.id} layout={layout.data}>
      {page}
    </WithTable>
  ) : (
    page(undefined)
  );
}

interface WithTableProps {
  job: string;
  layout: Layout;
  children: (table: RollTable) => ReactNode;
}

function WithTable({ job, layout, children }: WithTableProps) {
  return children(useTable(job, layout));
}

/** While a piece is carried the length follows it; the area of the pieces stays. */
function usedOf(layout: Layout, shapes: readonly LaidShape[], carried: number | undefined) {
  const used = usedBy(layout, shapes);
  const length_mm = carried ?? used.length;
  return { length_mm, waste: 1 - layout.piece_area_mm2 / (layout.width_mm * length_mm) };
}

/** Clashes named beside the picture; the picture shows all. */
const mostClashes = 4;

interface UsedProps {
  shown: Pick<LiveLayout, "length_mm" | "waste"> | undefined;
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

interface VerdictProps {
  layout: Layout;
  changed: boolean;
  clashes: readonly Clash[] | undefined;
}

function Verdict({ layout, changed, clashes }: VerdictProps) {
  const { words } = useReader();
  const nameOf = (id: string) => layout.placements.find(({ piece }) => piece === id)?.name ?? id;
  const lines = (clashes ?? []).map(
    ({ rule, pieces }) =>
      `${pieces.map(({ piece }) => nameOf(piece)).join(" · ")}: ${words.table.rules[rule]}`,
  );
  return (
    <>
      {lines.length > 0 ? (
        <Note tone="caution" lines={[...new Set(lines)].slice(0, mostClashes)} />
      ) : changed ? (
        <p className={classes.verdict}>{words.table.unsaved}</p>
      ) : layout.verified ? (
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
