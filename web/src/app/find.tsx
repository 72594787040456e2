import { Button, Modal } from "@mantine/core";
import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import { useLocation } from "wouter";
import { useFilms, useJobs, useRolls } from "@/api/queries";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import { found, type Place } from "./find_match";
import classes from "./app.module.css";

const most = 9;

/** Goes anywhere from the keyboard: pages, jobs, films, rolls and lots by name. */
export function Find() {
  const { words } = useReader();
  const [opened, setOpened] = useState(false);
  useEffect(() => {
    const key = (event: globalThis.KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "k") return;
      event.preventDefault();
      setOpened((before) => !before);
    };
    window.addEventListener("keydown", key);
    return () => window.removeEventListener("keydown", key);
  }, []);
  return (
    <>
      <Button
        variant="default"
        size="xs"
        h={34}
        leftSection={<Icon name="search" size={15} />}
        onClick={() => setOpened(true)}
        aria-keyshortcuts="Control+K"
        title={words.find.hint}
        aria-label={words.find.open}
      >
        <span className={classes.findWord}>{words.find.open}</span>
      </Button>
      {/* In parts: the library's own head would be a second banner to a screen reader. */}
      <Modal.Root
        opened={opened}
        onClose={() => setOpened(false)}
        size="lg"
        yOffset="12vh"
        // Nothing typed right after Ctrl+K may be lost.
        transitionProps={{ duration: 0 }}
      >
        <Modal.Overlay />
        <Modal.Content aria-label={words.find.title}>
          <Modal.Body pt="md">
            <Search onGo={() => setOpened(false)} />
          </Modal.Body>
        </Modal.Content>
      </Modal.Root>
    </>
  );
}

function Search({ onGo }: { onGo: () => void }) {
  const { words } = useReader();
  const [, go] = useLocation();
  const places = usePlaces();
  const [typed, setTyped] = useState("");
  const [at, setAt] = useState(0);
  const id = useId();
  const list = useRef<HTMLUListElement>(null);
  const shown = useMemo(() => found(places, typed, most), [places, typed]);
  const picked = Math.min(at, Math.max(0, shown.length - 1));
  useEffect(() => {
    list.current?.children[picked]?.scrollIntoView({ block: "nearest" });
  }, [picked]);

  const visit = (place: Place | undefined) => {
    if (!place) return;
    onGo();
    go(place.href);
  };
  const press = (event: KeyboardEvent) => {
    if (event.key === "ArrowDown") setAt(Math.min(picked + 1, shown.length - 1));
    else if (event.key === "ArrowUp") setAt(Math.max(0, picked - 1));
    else if (event.key === "Enter") visit(shown[picked]);
    else return;
    event.preventDefault();
  };
  return (
    <div className={classes.find}>
      <input
        data-autofocus
        autoFocus
        role="combobox"
        aria-label={words.find.label}
        aria-expanded
        aria-controls={id}
        aria-activedescendant={shown.length > 0 ? `${id}-${picked}` : undefined}
        placeholder={words.find.label}
        value={typed}
        onChange={(event) => {
          setTyped(event.currentTarget.value);
          setAt(0);
        }}
        onKeyDown={press}
      />
      <ul ref={list} id={id} role="listbox" aria-label={words.find.title}>
        {shown.map((place, index) => (
          <li
            key={`${place.kind} ${place.href} ${place.name}`}
            id={`${id}-${index}`}
            role="option"
            aria-selected={index === picked}
            onPointerMove={() => setAt(index)}
            onClick={() => visit(place)}
          >
            <span>{place.name}</span>
            <span>{place.also}</span>
            <span>{words.find.kinds[place.kind]}</span>
          </li>
        ))}
      </ul>
      <p role="status">{shown.length === 0 ? words.find.nothing : words.find.hint}</p>
    </div>
  );
}

function usePlaces(): Place[] {
  const { words } = useReader();
  const [path] = useLocation();
  const jobs = useJobs();
  const films = useFilms();
  const rolls = useRolls();
  return useMemo(() => {
    const nameOf = (film: string) => films.data?.find(({ id }) => id === film)?.name ?? film;
    const here = /^\/jobs\/([^/]+)\//.exec(path)?.[1];
    return [
      ...(here
        ? Object.entries(words.steps).map(([step, name]): Place => ({
            kind: "page",
            name,
            also: words.stepHints[step as keyof typeof words.stepHints],
            href: `/jobs/${here}/${step}`,
          }))
        : []),
      { kind: "page", name: words.bench, also: words.today.title, href: "/" },
      { kind: "page", name: words.counter.title, also: words.counter.newJob, href: "/counter" },
      ...(jobs.data ?? []).map((job): Place => ({
        kind: "job",
        name: job.title,
        also: [job.id, job.customer, words.states[job.state]].filter(Boolean).join(" · "),
        href: `/jobs/${encodeURIComponent(job.id)}/body`,
      })),
      ...(rolls.data ?? []).map((roll): Place => ({
        kind: "roll",
        name: roll.id,
        also: [roll.lot, nameOf(roll.film), roll.place].filter(Boolean).join(" · "),
        href: "/#stock",
      })),
      ...(films.data ?? []).map((film): Place => ({
        kind: "film",
        name: film.name,
        also: film.id,
        href: "/#stock",
      })),
    ];
  }, [words, path, jobs.data, films.data, rolls.data]);
}
