import { Button, SegmentedControl, Select, useComputedColorScheme } from "@mantine/core";
import { lazy, Suspense, useCallback, useMemo, useRef, useState } from "react";
import type { Film, Panel } from "@/api/client";
import { useFilms, useVehicle, useVehicleModel, useVehicles } from "@/api/queries";
import type { Viewpoint } from "@/parts/stage/orbit";
import { TakePicture } from "@/parts/take_picture";
import { Trouble } from "@/parts/trouble";
import { Empty } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { type Choice, suits, toggled, withFilm } from "./choice";
import { Sum } from "./sum";
import { SurfaceList } from "./surface_list";
import classes from "./counter.module.css";

const Stage = lazy(() => import("@/parts/stage/stage"));
const viewpoints = ["corner", "front", "side", "back", "above"] as const;

/** At the counter: the customer sees the vehicle, chooses surfaces and film, and what it takes. */
export default function CounterPage() {
  const { words } = useReader();
  const vehicles = useVehicles();
  const [chosen, setChosen] = useState<string>();
  const vehicle = chosen ?? vehicles.data?.[0]?.id;
  if (vehicles.error)
    return <Trouble error={vehicles.error} again={() => void vehicles.refetch()} />;
  if (vehicles.data?.length === 0)
    return (
      <Empty title={words.counter.empty}>
        <p>{words.counter.emptyText}</p>
      </Empty>
    );
  if (!vehicle || !vehicles.data) return <div aria-busy="true" />;
  return (
    <Counter
      key={vehicle}
      vehicle={vehicle}
      vehicles={vehicles.data.map(({ id, name }) => ({ value: id, label: name }))}
      onVehicle={setChosen}
    />
  );
}

interface CounterProps {
  vehicle: string;
  vehicles: { value: string; label: string }[];
  onVehicle: (vehicle: string) => void;
}

const nothing: Choice = new Map();

function Counter({ vehicle: id, vehicles, onVehicle }: CounterProps) {
  const { words } = useReader();
  const vehicle = useVehicle(id);
  const model = useVehicleModel(id);
  const films = useFilms();
  const dark = useComputedColorScheme("light") === "dark";
  const [history, setHistory] = useState<readonly Choice[]>([nothing]);
  const [filmId, setFilmId] = useState<string | null>();
  const [mode, setMode] = useState<"turn" | "choose">("turn");
  const [viewpoint, setViewpoint] = useState<Viewpoint>({ from: "corner", turn: 0 });
  const [hovered, setHovered] = useState<string>();
  const [said, setSaid] = useState("");
  const stage = useRef<HTMLElement>(null);
  const choice = history.at(-1) ?? nothing;
  const panels = useMemo(() => vehicle.data?.panels ?? [], [vehicle.data]);
  const film =
    filmId === null ? undefined : (films.data?.find((one) => one.id === filmId) ?? films.data?.[0]);
  const finishes = useMemo(() => new Map(panels.map((one) => [one.id, one.finish])), [panels]);
  const finishOf = useCallback((panel: string) => finishes.get(panel), [finishes]);
  const looks = useMemo(() => {
    const byId = new Map(films.data?.map((one) => [one.id, one]));
    return new Map(
      [...choice].flatMap(([panel, on]): [string, Film][] => {
        const look = byId.get(on);
        return look ? [[panel, look]] : [];
      }),
    );
  }, [choice, films.data]);

  const change = useCallback(
    (make: (before: Choice) => Choice) =>
      setHistory((before) => {
        const last = before.at(-1) ?? nothing;
        const next = make(last);
        return sameChoice(last, next) ? before : [...before.slice(-99), next];
      }),
    [],
  );
  const panelOf = (panel: string | undefined) => panels.find((one) => one.id === panel);
  const touch = (panel: Panel | undefined) => {
    if (!panel) return;
    if (film && !suits(film, panel))
      return setSaid(words.counter.unsuitable(film.name, panel.name));
    setSaid("");
    change((before) => toggled(before, panel, film));
  };
  const sweep = (panel: string) => {
    const over = panelOf(panel);
    if (over && film && !suits(film, over)) setSaid(words.counter.unsuitable(film.name, over.name));
    else if (over) change((before) => withFilm(before, [over], film));
  };
  const nameOf = (of: string) => films.data?.find((one) => one.id === of)?.name ?? of;
  const fault = vehicle.error ?? films.error ?? model.error;

  return (
    <div className={classes.page}>
      <aside className={classes.side} aria-label={words.counter.film}>
        <h1>{words.counter.title}</h1>
        {fault && <Trouble error={fault} />}
        <Select
          label={words.counter.vehicle}
          data={vehicles}
          value={id}
          allowDeselect={false}
          onChange={(value) => value !== null && onVehicle(value)}
        />
        <div role="radiogroup" aria-label={words.counter.film} className={classes.films}>
          {(films.data ?? []).map((one) => (
            <button
              key={one.id}
              type="button"
              role="radio"
              aria-checked={film?.id === one.id}
              onClick={() => setFilmId(one.id)}
            >
              <i style={{ background: one.colour }} data-gloss={one.gloss} aria-hidden="true" />
              {one.name}
            </button>
          ))}
          <button
            type="button"
            role="radio"
            aria-checked={film === undefined}
            onClick={() => setFilmId(null)}
          >
            <i aria-hidden="true" />
            {words.counter.bare}
          </button>
        </div>
        <div className={classes.row}>
          <Button
            variant="default"
            size="xs"
            disabled={!film}
            onClick={() => change((before) => withFilm(before, panels, film))}
          >
            {words.counter.all}
          </Button>
          <Button
            variant="default"
            size="xs"
            disabled={choice.size === 0}
            onClick={() => change(() => nothing)}
          >
            {words.counter.none}
          </Button>
          <Button
            variant="default"
            size="xs"
            disabled={history.length < 2}
            onClick={() => setHistory((before) => before.slice(0, -1))}
          >
            {words.counter.undo}
          </Button>
        </div>
        <SurfaceList
          panels={panels}
          choice={choice}
          films={films.data ?? []}
          onHover={setHovered}
          onToggle={touch}
          onZone={(some) => change((before) => withFilm(before, some, film))}
        />
      </aside>
      <section
        ref={stage}
        className={classes.stage}
        aria-label={vehicle.data?.name ?? words.counter.vehicle}
      >
        <Suspense fallback={null}>
          {model.data && vehicle.data && (
            <Stage
              label={words.counter.stage}
              model={model.data as ArrayBuffer}
              finishOf={finishOf}
              films={looks}
              onSweep={mode === "choose" ? sweep : undefined}
              picked={undefined}
              hovered={hovered}
              painted={undefined}
              triangle={undefined}
              viewpoint={viewpoint}
              dark={dark}
              onPick={(panel) => touch(panelOf(panel))}
              onHover={setHovered}
              onTriangle={() => undefined}
            />
          )}
        </Suspense>
        <div className={classes.top}>
          <p role="status">
            {said ||
              (hovered &&
                words.counter.picked(
                  panelOf(hovered)?.name ?? hovered,
                  choice.has(hovered) ? nameOf(choice.get(hovered) ?? "") : words.counter.bare,
                ))}
          </p>
          <SegmentedControl
            size="xs"
            aria-label={words.counter.mode}
            value={mode}
            onChange={(value) => setMode(value === "choose" ? "choose" : "turn")}
            data={[
              { value: "turn", label: words.counter.turn },
              { value: "choose", label: words.counter.choose },
            ]}
          />
        </div>
        <div className={classes.views} role="group" aria-label={words.bodyPage.views}>
          {viewpoints.map((from) => (
            <Button
              key={from}
              size="xs"
              variant="default"
              onClick={() => setViewpoint(({ turn }) => ({ from, turn: turn + 1 }))}
            >
              {words.bodyPage.from[from]}
            </Button>
          ))}
          <TakePicture lines={false} of={stage} name={vehicle.data?.name ?? id} size={30} />
        </div>
      </section>
      <Sum
        vehicle={id}
        panels={panels}
        films={films.data ?? []}
        choice={choice}
        onChoice={(taken) => change(() => taken)}
      />
    </div>
  );
}

const sameChoice = (a: Choice, b: Choice) =>
  a.size === b.size && [...a].every(([panel, film]) => b.get(panel) === film);
