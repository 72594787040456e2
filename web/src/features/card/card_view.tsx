import { Autocomplete, Button, FileButton, Select, Textarea, TextInput } from "@mantine/core";
import { useCallback, useMemo, useRef, useState } from "react";
import type { Card, Cards, Film, Panel } from "@/api/client";
import { MarkLegend } from "@/canvas/mark_legend";
import { kindsOf } from "@/canvas/marks";
import { asRing } from "@/geometry/view";
import { Cautions, cautionsOf } from "@/parts/cautions";
import { countsOf, LayingWords, marksOf } from "@/parts/laying";
import { TakePicture } from "@/parts/take_picture";
import { Trouble } from "@/parts/trouble";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import type { Standing } from "./card_page";
import { Drawing } from "./drawing";
import type { Report } from "./outbox";
import { canScan, Scan } from "./scan";
import classes from "./card.module.css";

interface CardViewProps {
  panel: Panel;
  film: Film;
  line: Cards["lines"][number];
  card: Card | undefined;
  error: unknown;
  again: () => void;
  standing: Standing;
  waiting: readonly Report[];
  sources: Cards["sources"];
  open: boolean;
  onReport: (report: Omit<Report, "id" | "job" | "at" | "panel">) => Promise<void>;
  onWait: (label: string, seconds: number) => void;
}

type Sheet = "recut" | "note" | undefined;

/** One card: picture, film and lot, how to lay it, waits, cautions, and what to report. */
export function CardView(props: CardViewProps) {
  const { panel, film, line, card, standing, sources, open, onReport } = props;
  const { words, format } = useReader();
  const [sheet, setSheet] = useState<Sheet>();
  const [text, setText] = useState("");
  const [reason, setReason] = useState<string | null>(null);
  const [scanning, setScanning] = useState(false);
  const [source, setSource] = useState(sources[0]?.id ?? "");
  const picture = useRef<HTMLDivElement>(null);
  const known = sources.find(({ id }) => id === source);
  const [typedLot, setTypedLot] = useState<string>();
  const lot = typedLot ?? known?.lot ?? "";

  const read = useCallback(
    (label: string) => {
      const found = sources.find(({ id, lot: batch }) => label === id || label === batch);
      if (found) {
        setSource(found.id);
        setTypedLot(undefined);
      } else setTypedLot(label);
      setScanning(false);
    },
    [sources],
  );
  const rings = useMemo(
    () =>
      card && {
        cut: [card.piece.cut.outer, ...card.piece.cut.holes].map(asRing),
        fold: [card.piece.fold.outer, ...card.piece.fold.holes].map(asRing),
        slits: card.piece.slits.map(asRing),
        laying: marksOf(card.laying),
      },
    [card],
  );
  const said = [
    ...line.said.map(({ id, word, text: what }) => ({ id, word, what, sent: true })),
    ...props.waiting
      .filter(({ id, word }) => word !== "laid" && !line.said.some((one) => one.id === id))
      .map(({ id, word, text: what }) => ({ id, word, what: what ?? "", sent: false })),
  ];
  const lastReason = said.filter(({ word }) => word === "recut").at(-1)?.what;
  const method = card?.laying.method.choice;

  return (
    <article className={classes.card} aria-labelledby="card-title">
      <div className={classes.picture} ref={picture}>
        <div className={classes.take}>
          <TakePicture of={picture} name={panel.name} size={44} />
        </div>
        {props.error !== null && props.error !== undefined && !card ? (
          <Trouble error={props.error} again={props.again} />
        ) : (
          rings && <Drawing label={words.card.drawing(panel.name)} {...rings} />
        )}
      </div>
      <div className={classes.side}>
        <header className={classes.title}>
          <h1 id="card-title">{panel.name}</h1>
          <span className={classes.standing} data-standing={standing}>
            {words.card.standings[standing]}
          </span>
          <p>
            <i style={{ background: film.colour }} aria-hidden="true" />
            {film.name} · {words.zones[panel.zone] ?? panel.zone} · {words.finishes[panel.finish]}
          </p>
        </header>
        {scanning ? (
          <Scan onRead={read} onClose={() => setScanning(false)} />
        ) : (
          <div className={classes.label}>
            <Autocomplete
              size="lg"
              label={words.card.source}
              data={sources.map(({ id }) => id)}
              // All are offered: what stands in the field is one of them, not a search.
              filter={({ options }) => options}
              renderOption={({ option }) => {
                const one = sources.find(({ id }) => id === option.value);
                const kind = one?.offcut ? words.recut.offcut : words.recut.roll;
                return `${kind} ${option.value} · ${words.card.lot} ${one?.lot ?? ""}`;
              }}
              value={source}
              onChange={(value) => {
                setSource(value);
                setTypedLot(undefined);
              }}
              disabled={!open}
            />
            <TextInput
              size="lg"
              label={words.card.lot}
              value={lot}
              onChange={(event) => setTypedLot(event.currentTarget.value)}
              disabled={!open}
            />
            {canScan() && (
              <Button
                size="lg"
                variant="default"
                disabled={!open}
                onClick={() => setScanning(true)}
              >
                {words.card.scan}
              </Button>
            )}
          </div>
        )}
        {card && (
          <>
            <section className={classes.how}>
              <h2>
                {words.methods[card.laying.method.choice]}
                <span>
                  {words.card.stretch} {format.stretch(card.stretch_most)}
                  {card.finger_share > 0.001 &&
                    ` · ${words.bodyPage.fingers} ${format.percent(card.finger_share)}`}
                </span>
              </h2>
              <ul>
                {card.laying.method.reasons.map((line) => (
                  <li key={line}>{sentence(line)}</li>
                ))}
              </ul>
            </section>
            {rings && (
              <MarkLegend
                kinds={kindsOf(countsOf(rings.laying))}
                words={words.bodyPage.markKinds}
              />
            )}
            <LayingWords laying={card.laying} />
          </>
        )}
        <div className={classes.timers} role="group" aria-label={words.card.waits}>
          {words.card.waitKinds.map(({ label, minutes }) => (
            <Button
              key={label}
              size="lg"
              variant="default"
              onClick={() => props.onWait(label, 60 * minutes)}
            >
              {label}: {minutes} min
            </Button>
          ))}
        </div>
        <Cautions names={cautionsOf(panel, method)} />
        {said.length > 0 && (
          <ul className={classes.said}>
            {said.map(({ id, word, what, sent }) => (
              <li key={id} data-sent={sent}>
                <b>{words.card.words[word]}</b> {what}
              </li>
            ))}
          </ul>
        )}
      </div>
      <footer className={classes.actions}>
        {sheet === undefined ? (
          <>
            <Button
              size="xl"
              className={classes.done}
              disabled={!open || standing === "laid" || source === "" || lot === ""}
              onClick={() =>
                void onReport({
                  word: "laid",
                  source,
                  lot,
                  ...(standing === "recut" && lastReason !== undefined && { text: lastReason }),
                })
              }
            >
              {words.card.done}
            </Button>
            <Button size="xl" variant="default" disabled={!open} onClick={() => setSheet("recut")}>
              {words.card.recut}
            </Button>
            <Button size="xl" variant="default" onClick={() => setSheet("note")}>
              {words.card.note}
            </Button>
            <FileButton
              accept="image/jpeg,image/png"
              inputProps={{ capture: "environment", "aria-label": words.card.photo }}
              onChange={(photo) =>
                photo && void onReport({ word: "photo", photo, text: panel.name })
              }
            >
              {(button) => (
                <Button size="xl" variant="default" {...button}>
                  {words.card.photo}
                </Button>
              )}
            </FileButton>
          </>
        ) : (
          <form
            className={classes.say}
            onSubmit={(event) => {
              event.preventDefault();
              const what = [sheet === "recut" ? reason : null, text.trim()]
                .filter(Boolean)
                .join(": ");
              if (what === "") return;
              void onReport({ word: sheet, text: what });
              setSheet(undefined);
              setText("");
              setReason(null);
            }}
          >
            {sheet === "recut" && (
              <Select
                size="lg"
                label={words.card.why}
                data={words.card.reasons}
                value={reason}
                onChange={setReason}
                comboboxProps={{ position: "top" }}
              />
            )}
            <Textarea
              size="lg"
              label={words.card.text}
              value={text}
              onChange={(event) => setText(event.currentTarget.value)}
              autosize
              minRows={1}
              maxRows={3}
            />
            <Button
              size="xl"
              type="submit"
              disabled={text.trim() === "" && (sheet !== "recut" || reason === null)}
            >
              {sheet === "recut" ? words.card.askRecut : words.card.keepNote}
            </Button>
            <Button size="xl" variant="default" onClick={() => setSheet(undefined)}>
              {words.close}
            </Button>
          </form>
        )}
      </footer>
    </article>
  );
}
