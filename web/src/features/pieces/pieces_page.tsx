import { Button, Loader, Select, TextInput } from "@mantine/core";
import { useMemo, useRef, useState } from "react";
import { useLocation, useSearch } from "wouter";
import type { Job, JobPiece } from "@/api/client";
import { useFilms, usePieces, useVehicle } from "@/api/queries";
import { byZone } from "@/canvas/zones";
import { TakePicture } from "@/parts/take_picture";
import { Trouble } from "@/parts/trouble";
import { Icon } from "@/ui/icon";
import { Empty, Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { PieceCard } from "./piece_card";
import { PhotoSheet } from "./photo_sheet";
import { PieceSheet, PiecesSummary } from "./piece_sheet";
import classes from "./pieces.module.css";

/** All flat pieces of the job: found by film, zone or name, and looked at one by one. */
export default function PiecesPage({ job }: { job: Job }) {
  const { words } = useReader();
  const pieces = usePieces(job.id);
  const films = useFilms();
  const vehicle = useVehicle(job.vehicle);
  const [path, go] = useLocation();
  const picked = new URLSearchParams(useSearch()).get("piece") ?? undefined;
  const [sought, setSought] = useState("");
  const [film, setFilm] = useState<string | null>(null);
  const [zone, setZone] = useState<string | null>(null);
  const [fromPhoto, setFromPhoto] = useState(false);

  const cards = useRef<HTMLDivElement>(null);
  const all = pieces.data?.pieces;
  const groups = useMemo(() => {
    const wanted = sought.trim().toLowerCase();
    const found = (all ?? []).filter(
      (one) =>
        (film === null || one.film === film) &&
        (zone === null || one.piece.zone === zone) &&
        one.piece.name.toLowerCase().includes(wanted),
    );
    return grouped(found);
  }, [all, sought, film, zone]);
  const zones = useMemo(() => grouped(all ?? []).map(([name]) => name), [all]);
  const names = useMemo(() => new Map(all?.map(({ piece }) => [piece.id, piece.name])), [all]);
  const chosen = all?.find(({ piece }) => piece.id === picked);
  const panel = vehicle.data?.panels.find(({ id }) => id === chosen?.panel);
  const panelName = (id: string) => vehicle.data?.panels.find((one) => one.id === id)?.name ?? id;
  const filmName = (id: string) => films.data?.find((one) => one.id === id)?.name ?? id;

  return (
    <div className={classes.page}>
      <section className={classes.main} aria-label={words.piecesPage.title}>
        <header className={classes.head}>
          <h1>{all ? words.piecesPage.count(all.length) : words.piecesPage.title}</h1>
          <TextInput
            value={sought}
            onChange={(event) => setSought(event.currentTarget.value)}
            placeholder={words.piecesPage.search}
            aria-label={words.piecesPage.search}
            leftSection={<Icon name="search" />}
          />
          <Select
            aria-label={words.piecesPage.zone}
            placeholder={`${words.piecesPage.zone}: ${words.piecesPage.all}`}
            clearable
            value={zone}
            onChange={setZone}
            data={zones.map((value) => ({ value, label: words.zones[value] ?? value }))}
          />
          <Select
            aria-label={words.piecesPage.film}
            placeholder={`${words.piecesPage.film}: ${words.piecesPage.all}`}
            clearable
            value={film}
            onChange={setFilm}
            data={job.films.map(({ film: value }) => ({ value, label: filmName(value) }))}
          />
          <Button variant="default" onClick={() => setFromPhoto(true)}>
            {words.photo.open}
          </Button>
          <TakePicture of={cards} name={words.piecesPage.title} />
          <PhotoSheet opened={fromPhoto} onClose={() => setFromPhoto(false)} />
        </header>
        <div className={classes.cards} ref={cards}>
          {pieces.error && <Trouble error={pieces.error} again={() => void pieces.refetch()} />}
          {pieces.isPending && (
            <div className={classes.making} role="status">
              <Loader size="sm" aria-hidden="true" />
              {words.piecesPage.computing}
            </div>
          )}
          {pieces.data && pieces.data.failures.length > 0 && (
            <Note
              tone="caution"
              lines={[
                words.piecesPage.failures,
                ...pieces.data.failures.map(
                  ({ panel: id, problem }) => `${panelName(id)}: ${problem.message}`,
                ),
              ]}
            />
          )}
          {all && groups.length === 0 && (
            <Empty title={words.piecesPage.noMatch}>
              <p />
            </Empty>
          )}
          {groups.map(([name, members]) => (
            <section key={name} className={classes.zone}>
              <h2>
                {words.zones[name] ?? name}
                <span>{members.length}</span>
              </h2>
              <ul>
                {members.map((one) => (
                  <li key={one.piece.id}>
                    <PieceCard
                      piece={one}
                      picked={one.piece.id === picked}
                      onPick={() =>
                        go(`${path}?piece=${encodeURIComponent(one.piece.id)}`, { replace: true })
                      }
                    />
                  </li>
                ))}
              </ul>
            </section>
          ))}
        </div>
      </section>
      <aside
        className={classes.side}
        tabIndex={0}
        aria-label={chosen?.piece.name ?? words.piecesPage.pick}
      >
        {chosen ? (
          <PieceSheet
            key={chosen.piece.id}
            job={job}
            chosen={chosen}
            panel={panel}
            film={filmName(chosen.film)}
            twin={names.get(chosen.piece.twin_of)}
          />
        ) : (
          <PiecesSummary vehicle={job.vehicle} pieces={all ?? []} filmName={filmName} />
        )}
      </aside>
    </div>
  );
}

function grouped(pieces: readonly JobPiece[]): [string, JobPiece[]][] {
  const groups = new Map<string, JobPiece[]>();
  for (const one of pieces)
    groups.set(one.piece.zone, [...(groups.get(one.piece.zone) ?? []), one]);
  return [...groups].sort(([a], [b]) => byZone(a, b));
}
