import { Modal } from "@mantine/core";
import { useDebouncedValue } from "@mantine/hooks";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import { useLocation } from "wouter";
import { answerOf, client, type Found } from "@/api/client";
import { useFilms, useJobs, useRolls } from "@/api/queries";
import { useReader } from "@/words/preferences";
import { found, type Place } from "./find_match";
import classes from "./app.module.css";

const most = 9;
const settle = 150; // ms without a key before the shop's book is asked
const leastLetters = 2;

interface FindDialogProps {
  opened: boolean;
  /** What was typed before the dialog was there. */
  begun: string;
  onClose: () => void;
}

export default function FindDialog({ opened, begun, onClose }: FindDialogProps) {
  const { words } = useReader();
  return (
    // In parts: the library's own head would be a second banner to a screen reader.
    <Modal.Root
      opened={opened}
      onClose={onClose}
      size="lg"
      yOffset="12vh"
      // Nothing typed right after Ctrl+K may be lost.
      transitionProps={{ duration: 0 }}
    >
      <Modal.Overlay />
      <Modal.Content aria-label={words.find.title}>
        <Modal.Body pt="md">
          <Search begun={begun} onGo={onClose} />
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}

function Search({ begun, onGo }: { begun: string; onGo: () => void }) {
  const { words } = useReader();
  const [, go] = useLocation();
  const places = usePlaces();
  const [typed, setTyped] = useState(begun);
  const [at, setAt] = useState(0);
  const id = useId();
  const list = useRef<HTMLUListElement>(null);
  const [asked] = useDebouncedValue(typed.trim(), settle);
  const kept = useKept(asked);
  const shown = useMemo(() => {
    const here = found(places, typed, most);
    const known = new Set(here.map(({ href, name }) => `${href} ${name}`));
    const more = kept.filter(({ href, name }) => !known.has(`${href} ${name}`));
    return [...here, ...more].slice(0, most);
  }, [places, typed, kept]);
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

const nothingKept: Place[] = [];

/** What the shop's book finds: customers, plates, VINs, lots, pieces, claims. */
function useKept(asked: string): Place[] {
  const answer = useQuery({
    queryKey: ["search", asked],
    queryFn: async () =>
      (await answerOf(client.GET("/search", { params: { query: { q: asked } } }))).found,
    enabled: asked.length >= leastLetters,
    placeholderData: keepPreviousData,
  });
  return useMemo(
    () =>
      asked.length < leastLetters
        ? nothingKept
        : (answer.data ?? []).map((one): Place => ({
            kind: one.kind,
            name: one.title || one.id,
            also: [one.title ? one.id : "", one.detail].filter(Boolean).join(" · "),
            href: hrefs[one.kind](one),
          })),
    [answer.data, asked],
  );
}

const aftercare = (of: Record<string, string>) =>
  `/aftercare?${new URLSearchParams(of).toString()}`;
const customers = ({ title, id }: Found) =>
  `/customers?${new URLSearchParams({ find: title || id }).toString()}`;
const hrefs: Record<Place["kind"], (one: Found) => string> = {
  page: () => "/",
  film: () => "/stock",
  roll: () => "/stock",
  job: ({ id }) => `/jobs/${encodeURIComponent(id)}/body`,
  customer: customers,
  vehicle: customers,
  lot: ({ id }) => aftercare({ q: id, lot: id }),
  quote: ({ id }) => `/quotes/${encodeURIComponent(id)}`,
  piece: ({ id, job }) => aftercare({ q: id, job }),
  claim: ({ id, job }) => aftercare({ q: id, job }),
};

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
      ...Object.entries(words.places).flatMap(([href, name]): Place[] =>
        href.startsWith("/") ? [{ kind: "page", name, also: "", href }] : [],
      ),
      { kind: "page", name: words.people.title, also: "", href: "/people" },
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
        href: "/stock",
      })),
      ...(films.data ?? []).map((film): Place => ({
        kind: "film",
        name: film.name,
        also: film.id,
        href: "/stock",
      })),
    ];
  }, [words, path, jobs.data, films.data, rolls.data]);
}
