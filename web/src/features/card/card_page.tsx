import { Button, Drawer } from "@mantine/core";
import { useEffect, useMemo, useState } from "react";
import { useLocation, useSearch } from "wouter";
import type { Cards, Job } from "@/api/client";
import { useCard, useCards, useFilms, useVehicle } from "@/api/queries";
import { byZone } from "@/canvas/zones";
import { Trouble } from "@/parts/trouble";
import { Empty, Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { CardView } from "./card_view";
import type { Report } from "./outbox";
import { keepShell } from "./shell";
import { sourcesFor } from "./sources";
import { useOutbox } from "./use_outbox";
import { useTimers } from "./use_timers";
import classes from "./card.module.css";

export type Standing = "open" | "recut" | "laid";
type Line = Cards["lines"][number];

/** The newest word counts: what waits in the outbox comes after what the server knows. */
export function standingOf(line: Line, waiting: readonly Report[]): Standing {
  const words = [
    ...line.on.map(({ at }) => ({ at, word: "laid" })),
    ...line.said.filter(({ word }) => word === "recut"),
    ...waiting.filter(
      ({ panel, word }) => panel === line.panel && (word === "laid" || word === "recut"),
    ),
  ].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  const last = words.at(-1)?.word;
  return last === "laid" ? "laid" : last === "recut" ? "recut" : "open";
}

/** The installer's cards: one panel at a time, on a tablet beside the vehicle. */
export default function CardPage({ job }: { job: Job }) {
  const { words, format } = useReader();
  const cards = useCards(job.id);
  const vehicle = useVehicle(job.vehicle);
  const films = useFilms();
  const [path, go] = useLocation();
  const picked = new URLSearchParams(useSearch()).get("panel") ?? undefined;
  const [all, setAll] = useState(false);
  const outbox = useOutbox(job.id);
  const timers = useTimers(job.id);

  const panels = vehicle.data?.panels;
  const order = useMemo(() => {
    const zoneOf = (id: string) => panels?.find((panel) => panel.id === id)?.zone ?? "";
    return [...(cards.data?.lines ?? [])].sort((a, b) => byZone(zoneOf(a.panel), zoneOf(b.panel)));
  }, [cards.data, panels]);
  useKept(job.id, order);

  const standings = order.map((one) => standingOf(one, outbox.reports));
  const at = Math.max(
    0,
    order.findIndex(({ panel }) => panel === picked),
  );
  const line = order[at];
  const card = useCard(job.id, line?.panel);
  const nameOf = (id: string) => panels?.find((panel) => panel.id === id)?.name ?? id;
  const open = ["released", "installing", "inspected"].includes(job.state);
  const laid = standings.filter((one) => one === "laid").length;
  const turn = (to: number) => {
    const next = order[to];
    if (next) go(`${path}?panel=${encodeURIComponent(next.panel)}`, { replace: true });
  };
  /** To the next card that is not done, or the one after this. */
  const onwards = () => {
    const rest = [...order.keys()].map((step) => (at + 1 + step) % order.length);
    turn(rest.find((index) => standings[index] !== "laid" && index !== at) ?? at + 1);
  };

  // Without a choice: the first that is not done, chosen once.
  const first =
    picked === undefined && panels
      ? order[standings.findIndex((standing) => standing !== "laid")]?.panel
      : undefined;
  useEffect(() => {
    if (first !== undefined) go(`${path}?panel=${encodeURIComponent(first)}`, { replace: true });
  }, [first, go, path]);

  const fault = cards.error ?? vehicle.error ?? films.error;
  if (fault && !cards.data)
    return (
      <div className={classes.fault}>
        <Trouble error={fault} again={() => void cards.refetch()} />
      </div>
    );
  if (!line || !panels || !films.data)
    return cards.data?.lines.length === 0 ? (
      <Empty title={words.card.empty}>
        <p>{words.card.emptyText}</p>
      </Empty>
    ) : (
      <div aria-busy="true" />
    );
  const panel = panels.find(({ id }) => id === line.panel);
  const film = films.data.find(({ id }) => id === line.film);
  const refused = outbox.reports.filter(({ refused }) => refused !== undefined);

  return (
    <div className={classes.page}>
      <header className={classes.head}>
        <Button size="lg" variant="default" onClick={() => setAll(true)}>
          {words.card.all(laid, order.length)}
        </Button>
        <Waiting count={outbox.reports.length - refused.length} reached={outbox.reached} />
        <div className={classes.waits}>
          {timers.waits.map((wait, index) => (
            <button
              key={`${wait.panel} ${wait.ends}`}
              type="button"
              className={classes.wait}
              data-over={wait.left === 0}
              onClick={() => timers.end(index)}
              title={words.card.endWait}
            >
              <span>
                {nameOf(wait.panel)}: {wait.label}
              </span>
              <b role={wait.left === 0 ? "alert" : undefined}>
                {wait.left === 0 ? words.card.waitOver : format.clock(wait.left)}
              </b>
            </button>
          ))}
        </div>
        <div className={classes.turn}>
          <Button size="lg" variant="default" disabled={at === 0} onClick={() => turn(at - 1)}>
            {words.card.before}
          </Button>
          <Button
            size="lg"
            variant="default"
            disabled={at === order.length - 1}
            onClick={() => turn(at + 1)}
          >
            {words.card.after}
          </Button>
        </div>
      </header>
      {!open && <Note tone="plain" lines={[words.card.notReleased, words.card.notReleasedText]} />}
      {refused.map((report) => (
        <Note
          key={report.id}
          tone="fault"
          lines={[
            `${nameOf(report.panel)}: ${words.card.words[report.word]}. ${words.card.refused}`,
            report.refused ?? "",
          ]}
          action={
            <Button variant="default" size="lg" onClick={() => void outbox.discard(report.id)}>
              {words.card.discard}
            </Button>
          }
        />
      ))}
      {panel && film && (
        <CardView
          key={line.panel}
          panel={panel}
          film={film}
          line={line}
          card={card.data}
          error={card.error}
          again={() => void card.refetch()}
          standing={standings[at] ?? "open"}
          waiting={outbox.reports.filter((report) => report.panel === line.panel)}
          sources={sourcesFor(cards.data?.sources ?? [], line.film, card.data?.piece.area_mm2 ?? 0)}
          open={open}
          onReport={async (report) => {
            await outbox.report({ ...report, panel: line.panel });
            if (report.word === "laid") onwards();
          }}
          onWait={(label, seconds) => timers.start(line.panel, label, seconds)}
        />
      )}
      <Drawer.Root opened={all} onClose={() => setAll(false)}>
        <Drawer.Overlay />
        <Drawer.Content aria-label={words.card.all(laid, order.length)}>
          <Drawer.Body pt="md">
            <Button size="lg" variant="default" fullWidth mb="sm" onClick={() => setAll(false)}>
              {words.close}
            </Button>
            <ul className={classes.list}>
              {order.map((one, index) => (
                <li key={one.panel}>
                  <button
                    type="button"
                    aria-current={index === at ? "true" : undefined}
                    data-standing={standings[index]}
                    onClick={() => {
                      setAll(false);
                      turn(index);
                    }}
                  >
                    <span>{nameOf(one.panel)}</span>
                    <span>{words.card.standings[standings[index] ?? "open"]}</span>
                  </button>
                </li>
              ))}
            </ul>
          </Drawer.Body>
        </Drawer.Content>
      </Drawer.Root>
    </div>
  );
}

function Waiting({ count, reached }: { count: number; reached: boolean }) {
  const { words } = useReader();
  return (
    <p className={classes.waiting} role="status" data-waiting={count} data-reached={reached}>
      {count > 0 ? words.card.waiting(count) : reached ? words.card.allSent : words.card.offline}
    </p>
  );
}

/** Fetches every card of the job once, a few at a time, so that each can be shown without a
 * network; the service worker keeps what it sees. */
function useKept(job: string, lines: readonly Line[]) {
  const panels = lines.map(({ panel }) => panel).join(" ");
  const { fetchCard } = useCards(job);
  useEffect(() => {
    if (panels === "") return;
    let gone = false;
    const fetchAll = async () => {
      await keepShell();
      for (const panel of panels.split(" ")) {
        if (gone) return;
        await fetchCard(panel).catch(() => undefined);
      }
    };
    void fetchAll();
    return () => {
      gone = true;
    };
  }, [panels, fetchCard]);
}
