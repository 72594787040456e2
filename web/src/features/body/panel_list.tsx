import { TextInput } from "@mantine/core";
import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import type { Job, Panel } from "@/api/client";
import { byZone } from "@/canvas/zones";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import classes from "./body.module.css";

interface PanelListProps {
  panels: readonly Panel[] | undefined;
  job: Job;
  picked: string | undefined;
  hovered: string | undefined;
  onPick: (panel: string) => void;
  onHover: (panel: string | undefined) => void;
}

/** All panels by zone; up and down walk through them, as in any list. */
export function PanelList({ panels, job, picked, hovered, onPick, onHover }: PanelListProps) {
  const { words } = useReader();
  const [sought, setSought] = useState("");
  const base = useId();
  const list = useRef<HTMLDivElement>(null);
  const covered = useMemo(() => new Set(job.scope.map(({ panel }) => panel)), [job]);

  const zones = useMemo(() => {
    const wanted = sought.trim().toLowerCase();
    const groups = new Map<string, Panel[]>();
    for (const panel of panels ?? []) {
      if (wanted && !panel.name.toLowerCase().includes(wanted)) continue;
      groups.set(panel.zone, [...(groups.get(panel.zone) ?? []), panel]);
    }
    return [...groups].sort(([a], [b]) => byZone(a, b));
  }, [panels, sought]);
  const order = zones.flatMap(([, members]) => members);

  useEffect(() => {
    if (picked !== undefined)
      list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: "nearest" });
  }, [picked, zones]);

  const walk = (event: KeyboardEvent) => {
    const at = order.findIndex(({ id }) => id === picked);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: order.length - 1 }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    const panel = order[Math.min(order.length - 1, Math.max(0, next))];
    if (panel) onPick(panel.id);
  };

  return (
    <section className={classes.list} aria-label={words.bodyPage.list}>
      <TextInput
        value={sought}
        onChange={(event) => setSought(event.currentTarget.value)}
        placeholder={words.bodyPage.search}
        aria-label={words.bodyPage.search}
        leftSection={<Icon name="search" />}
      />
      <div
        ref={list}
        className={classes.options}
        role="listbox"
        aria-label={words.bodyPage.list}
        tabIndex={0}
        aria-activedescendant={picked === undefined ? undefined : `${base}-${picked}`}
        onKeyDown={walk}
      >
        {zones.map(([zone, members]) => (
          <div key={zone} role="group" aria-label={words.zones[zone] ?? zone}>
            <div className={classes.zone} aria-hidden="true">
              {words.zones[zone] ?? zone}
              <span>{members.length}</span>
            </div>
            {members.map((panel) => (
              <div
                key={panel.id}
                id={`${base}-${panel.id}`}
                role="option"
                aria-selected={panel.id === picked}
                data-hovered={panel.id === hovered}
                data-outside={!covered.has(panel.id)}
                className={classes.option}
                onClick={() => onPick(panel.id)}
                onPointerEnter={() => onHover(panel.id)}
                onPointerLeave={() => onHover(undefined)}
              >
                {panel.name}
                {!covered.has(panel.id) && (
                  <span className={classes.outside}>{words.bodyPage.outOfJob}</span>
                )}
              </div>
            ))}
          </div>
        ))}
        {panels && order.length === 0 && <p className={classes.none}>{words.bodyPage.noMatch}</p>}
      </div>
    </section>
  );
}
