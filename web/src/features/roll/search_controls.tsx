import { Button, Progress, SegmentedControl, Select } from "@mantine/core";
import { useId } from "react";
import type { Roll } from "@/api/client";
import type { Search } from "@/parts/search";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";

import classes from "./roll.module.css";

/** Stands for all rolls and offcuts of the film. */
export const anyFilm = "";

const searchSeconds = ["5", "20", "60", "180"];

interface SearchControlsProps {
  rolls: readonly Roll[];
  roll: Roll | undefined;
  /** Whether all film at hand is to be chosen from, not `roll`. */
  fromAll: boolean;
  onRoll: (roll: string) => void;
  search: Search | undefined;
  busy: boolean;
  again: boolean;
  seconds: string;
  onSeconds: (seconds: string) => void;
  onStart: () => void;
  onStop: () => void;
}

/** On which roll and how long to search; while it runs, how far it is and the way to stop it. */
export function SearchControls(props: SearchControlsProps) {
  const { words, format } = useReader();
  const time = useId();
  const { roll, search } = props;
  return (
    <>
      <Select
        label={words.rollPage.roll}
        value={props.fromAll ? anyFilm : (roll?.id ?? null)}
        onChange={(value) => value !== null && props.onRoll(value)}
        allowDeselect={false}
        disabled={props.busy}
        data={[
          { value: anyFilm, label: words.rollPage.anyFilm },
          ...props.rolls.map((one) => ({
            value: one.id,
            label: `${one.id}, ${format.length(one.width_mm, 0)}, ${format.rollLength(one.remaining_mm)} ${words.benchPage.left}`,
          })),
        ]}
      />
      <div>
        <div id={time} className={classes.label}>
          {words.rollPage.time}
        </div>
        <SegmentedControl
          fullWidth
          aria-labelledby={time}
          value={props.seconds}
          onChange={props.onSeconds}
          disabled={props.busy}
          data={searchSeconds.map((value) => ({
            value,
            label: format.duration(Number(value)).replace(/ 00.s$/, ""),
          }))}
        />
      </div>
      <div className={classes.run}>
        {search ? (
          <>
            <Button
              variant="default"
              leftSection={<Icon name="stop" size={16} />}
              onClick={props.onStop}
              disabled={search.stopping}
            >
              {search.stopping ? words.rollPage.stopping : words.rollPage.stop}
            </Button>
            <Progress
              value={100 * Math.max(0, search.progress.fraction)}
              size={6}
              aria-label={words.rollPage.searching}
            />
            <p className={classes.status} role="status">
              <span>{words.rollPage.searching}</span>
              <span>
                {format.duration(search.wanted - search.progress.seconds)} {words.rollPage.timeLeft}
              </span>
            </p>
          </>
        ) : (
          <Button onClick={props.onStart} disabled={props.busy || !roll} loading={props.busy}>
            {props.again ? words.rollPage.again : words.rollPage.start}
          </Button>
        )}
      </div>
    </>
  );
}
