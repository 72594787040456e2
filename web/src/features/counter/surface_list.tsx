import { Button } from "@mantine/core";
import { useMemo } from "react";
import type { Film, Panel } from "@/api/client";
import { byZone } from "@/canvas/zones";
import { useReader } from "@/words/preferences";
import type { Choice } from "./choice";
import classes from "./counter.module.css";

interface SurfaceListProps {
  panels: readonly Panel[];
  choice: Choice;
  films: readonly Film[];
  onHover: (panel: string | undefined) => void;
  onToggle: (panel: Panel) => void;
  onZone: (panels: readonly Panel[]) => void;
}

/** Every surface by name: the vehicle's twin for keyboard and screen reader. */
export function SurfaceList(props: SurfaceListProps) {
  const { panels, choice, films } = props;
  const { words } = useReader();
  const zones = useMemo(() => {
    const names = [...new Set(panels.map(({ zone }) => zone))].sort(byZone);
    return names.map((zone) => ({ zone, inside: panels.filter((panel) => panel.zone === zone) }));
  }, [panels]);
  return (
    <div className={classes.list} role="group" aria-label={words.counter.list}>
      {zones.map(({ zone, inside }) => (
        <section key={zone} aria-label={words.zones[zone] ?? zone}>
          <header>
            <h2>{words.zones[zone] ?? zone}</h2>
            <Button
              size="compact-xs"
              variant="subtle"
              aria-label={`${words.counter.zone}: ${words.zones[zone] ?? zone}`}
              onClick={() => props.onZone(inside)}
            >
              {words.counter.zone}
            </Button>
          </header>
          {inside.map((panel) => {
            const film = films.find(({ id }) => id === choice.get(panel.id));
            return (
              <button
                key={panel.id}
                type="button"
                aria-pressed={film !== undefined}
                onClick={() => props.onToggle(panel)}
                onPointerEnter={() => props.onHover(panel.id)}
                onPointerLeave={() => props.onHover(undefined)}
              >
                <i style={film && { background: film.colour }} aria-hidden="true" />
                <span>{panel.name}</span>
                <span>{film?.name ?? words.finishes[panel.finish]}</span>
              </button>
            );
          })}
        </section>
      ))}
    </div>
  );
}
