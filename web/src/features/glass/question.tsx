import { NumberInput, SegmentedControl, Select } from "@mantine/core";
import type { GlassPlace, Tint, WindowPosition } from "@/api/client";
import type { MatchQuestion } from "@/api/queries";
import { useReader } from "@/words/preferences";
import classes from "./glass.module.css";

const tints: readonly Tint[] = ["green", "grey", "bronze", "neutral"];
const positions: readonly WindowPosition[] = ["windscreen", "front_side", "rear_side", "rear"];

interface QuestionProps {
  question: MatchQuestion;
  onChange: (part: Partial<MatchQuestion>) => void;
  places: readonly GlassPlace[] | undefined;
  place: string;
  onPlace: (place: string) => void;
}

/** Both panes as the meter saw them, the doubts, and the place whose law is held against them. */
export function Question({ question, onChange, places, place, onPlace }: QuestionProps) {
  const { words } = useReader();
  const page = words.glassPage;
  const share = (
    label: string,
    value: number,
    set: (value: number) => void,
    { most = 92, least = 1, suffix = " %", step = 1 } = {},
  ) => (
    <NumberInput
      label={label}
      value={Math.round(value * 1000) / 10}
      onChange={(next) => typeof next === "number" && set(next / 100)}
      min={least}
      max={most}
      step={step}
      decimalScale={1}
      clampBehavior="strict"
      suffix={suffix}
    />
  );
  const colour = (label: string, value: Tint, set: (tint: Tint) => void) => (
    <Select
      label={label}
      aria-label={label}
      value={value}
      allowDeselect={false}
      onChange={(next) => next !== null && set(next as Tint)}
      data={tints.map((tint) => ({ value: tint, label: page.tints[tint] }))}
    />
  );
  return (
    <>
      <div className={classes.pair}>
        {share(page.front, question.front, (front) => onChange({ front }))}
        {colour(page.tint, question.front_tint, (front_tint) => onChange({ front_tint }))}
        {share(page.behind, question.behind, (behind) => onChange({ behind }))}
        {colour(page.tint, question.behind_tint, (behind_tint) => onChange({ behind_tint }))}
        {share(page.meter, question.meter_error, (meter_error) => onChange({ meter_error }), {
          least: 0,
          most: 20,
          suffix: ` ${page.points}`,
          step: 0.5,
        })}
        {share(
          page.glassTolerance,
          question.glass_tolerance,
          (glass_tolerance) => onChange({ glass_tolerance }),
          { least: 0, most: 20, suffix: ` ${page.points}`, step: 0.5 },
        )}
      </div>
      <div>
        <div className={classes.label} id="films-on-a-pane">
          {page.films}
        </div>
        <SegmentedControl
          fullWidth
          aria-labelledby="films-on-a-pane"
          value={String(question.most_films)}
          onChange={(value) => onChange({ most_films: Number(value) })}
          data={["1", "2"]}
        />
      </div>
      <Select
        label={page.place}
        placeholder={page.noPlace}
        searchable
        allowDeselect={false}
        value={place || null}
        onChange={(value) => value !== null && onPlace(value)}
        data={(places ?? []).map(({ id, name }) => ({ value: id, label: name }))}
      />
      <Select
        label={page.window}
        allowDeselect={false}
        value={question.position}
        onChange={(value) => value !== null && onChange({ position: value as WindowPosition })}
        data={positions.map((value) => ({ value, label: page.positions[value] }))}
      />
    </>
  );
}
