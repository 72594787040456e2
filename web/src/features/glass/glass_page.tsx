import { SegmentedControl } from "@mantine/core";
import { useState } from "react";
import type { GlassMatches, Job, WindowPosition } from "@/api/client";
import {
  type MatchQuestion,
  useFilms,
  useJobGlass,
  useMatches,
  usePlaces,
  useRecordGlass,
} from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { Choice } from "./choice";
import { Lamps } from "./lamps";
import type { View } from "./look";
import { MatchList } from "./match_list";
import { Panes } from "./panes";
import { Question } from "./question";
import { Signatures } from "./signatures";
import { Windows } from "./windows";
import classes from "./glass.module.css";

const asked: Omit<MatchQuestion, "place"> = {
  front: 0.74,
  behind: 0.2,
  front_tint: "green",
  behind_tint: "grey",
  most_films: 2,
  glass_tolerance: 0.02,
  meter_error: 0.02,
  position: "front_side" as WindowPosition,
};

/** Windows, lamps and sensors: what matches, what is left, what the place says, who signed. */
export default function GlassPage({ job }: { job: Job }) {
  const { words } = useReader();
  const films = useFilms();
  const places = usePlaces();
  const glass = useJobGlass(job.id);
  const record = useRecordGlass(job.id);
  const [question, setQuestion] = useState(asked);
  const place = glass.data?.place ?? "";
  const matches = useMatches(place ? { ...question, place } : question);
  const nameOf = (id: string) => films.data?.find((film) => film.id === id)?.name ?? id;
  const fault = glass.error ?? places.error ?? record.place.error;

  return (
    <div className={classes.page}>
      <aside className={classes.side}>
        <h1>{words.glassPage.title}</h1>
        <Question
          question={question}
          onChange={(part) => setQuestion((before) => ({ ...before, ...part }))}
          places={places.data?.places}
          place={place}
          onPlace={(id) => record.place.mutate(id)}
        />
        {fault && <Trouble error={fault} />}
        <Note tone="caution" lines={words.glassPage.noAdvice} />
      </aside>
      <div className={classes.main}>
        {matches.error && <Trouble error={matches.error} />}
        {matches.data && (
          <Matched
            answer={matches.data}
            busy={matches.isFetching}
            nameOf={nameOf}
            position={question.position}
            place={glass.data?.place_name ?? ""}
          />
        )}
        {glass.data && (
          <>
            <Windows glass={glass.data} nameOf={nameOf} reading={record.reading} />
            <Signatures glass={glass.data} decision={record.decision} />
            <Lamps glass={glass.data} nameOf={nameOf} />
          </>
        )}
      </div>
    </div>
  );
}

interface MatchedProps {
  answer: GlassMatches;
  busy: boolean;
  nameOf: (film: string) => string;
  position: WindowPosition;
  place: string;
}

/** Both windows as they would look, the films that match, and what else the chosen one does. */
function Matched({ answer, busy, nameOf, position, place }: MatchedProps) {
  const { words, format } = useReader();
  const [view, setView] = useState<View>("outside");
  const [picked, setPicked] = useState<string>();
  const keyOf = (names: readonly string[]) => names.join("+");
  const match = answer.matches.find(({ films }) => keyOf(films) === picked) ?? answer.matches[0];
  if (!match) return null;
  const title = match.films.map(nameOf).join(" + ") || words.glassPage.bare;
  return (
    <div className={classes.matched} aria-busy={busy}>
      <Sheet
        title={words.glassPage.picture}
        className={classes.picture}
        actions={
          <SegmentedControl
            size="xs"
            aria-label={words.glassPage.picture}
            value={view}
            onChange={(value) => setView(value === "inside" ? "inside" : "outside")}
            data={(["outside", "inside"] as const).map((value) => ({
              value,
              label: words.glassPage.views[value],
            }))}
          />
        }
      >
        <Panes
          front={match.look}
          behind={answer.behind_look}
          view={view}
          name={words.glassPage.pictureOf(
            title,
            format.percent(match.visible.value),
            format.percent(answer.behind.value),
          )}
        />
        <div className={classes.captions}>
          <span>
            <strong>{format.percent(match.visible.value)}</strong> {words.glassPage.pane.front}
          </span>
          <span>
            <strong>{format.percent(answer.behind.value)}</strong> {words.glassPage.pane.behind}
          </span>
        </div>
      </Sheet>
      <MatchList
        matches={answer.matches}
        picked={keyOf(match.films)}
        onPick={setPicked}
        keyOf={keyOf}
        nameOf={nameOf}
      />
      <Choice answer={answer} match={match} title={title} position={position} place={place} />
    </div>
  );
}
