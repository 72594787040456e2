import {
  ActionIcon,
  SegmentedControl,
  Slider,
  Switch,
  useComputedColorScheme,
} from "@mantine/core";
import { useMemo, useState } from "react";
import type { LaidShape } from "@/canvas/roll_picture";
import { asRing } from "@/geometry/view";
import { RollView } from "@/parts/roll_view";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import type { ReplayProps } from "./knife_page";
import { Order } from "./order";
import { PathOverlay } from "./path_overlay";
import { contourAt, lengthOf, startsOf, stepOf, stepsOf, trackOf } from "./track";
import { useReplay } from "./use_replay";
import classes from "./knife.module.css";

const speeds = ["1", "20", "100"];

/** The planned path over the roll with its order, and time to move through. */
export function Replay({ cut, layout, profile, controls }: ReplayProps) {
  const { words, format } = useReader();
  const dark = useComputedColorScheme("light") === "dark";
  const [speed, setSpeed] = useState("20");
  const [numbers, setNumbers] = useState(true);
  const track = useMemo(
    () => trackOf(cut, { cut: profile.cut_speed_mm_s, travel: profile.travel_speed_mm_s }),
    [cut, profile],
  );
  const starts = useMemo(() => startsOf(track), [track]);
  const seconds = lengthOf(track);
  const replay = useReplay(seconds, Number(speed));
  const steps = useMemo(() => stepsOf(cut.contours), [cut]);
  const now = stepOf(steps, contourAt(track, replay.seconds));

  const names = useMemo(
    () => new Map(layout?.placements.map(({ piece, name }) => [piece, name])),
    [layout],
  );
  const shapes = useMemo<LaidShape[]>(
    () =>
      (layout?.placements ?? []).map((laid) => ({
        key: `${laid.piece} ${laid.copy}`,
        name: laid.name,
        zone: "",
        rings: [laid.outline.outer, ...laid.outline.holes].map(asRing),
        turn: 0,
        x: 0,
        y: 0,
      })),
    [layout],
  );
  const current = steps[now];

  return (
    <div className={classes.page}>
      <aside className={classes.side}>
        <h1>{words.knifePage.title}</h1>
        {controls}
        <Order
          steps={steps}
          names={names}
          now={now}
          onGo={({ first }) => replay.moveTo(starts.get(first)?.seconds ?? 0)}
        />
      </aside>
      <section className={classes.picture}>
        <RollView
          label={words.knifePage.picture}
          width={cut.width_mm}
          length={cut.length_mm}
          shapes={shapes}
          names={false}
          over={(view, size) => (
            <PathOverlay
              track={track}
              steps={steps}
              seconds={replay.seconds}
              numbers={numbers}
              view={view}
              size={size}
              dark={dark}
            />
          )}
        />
      </section>
      <section className={classes.replay} aria-label={words.knifePage.replay}>
        <ActionIcon
          size={44}
          aria-label={replay.playing ? words.knifePage.pause : words.knifePage.play}
          onClick={replay.toggle}
        >
          <Icon name={replay.playing ? "pause" : "play"} />
        </ActionIcon>
        <div className={classes.slider}>
          <Slider
            min={0}
            max={Math.max(seconds, 0.001)}
            step={Math.max(seconds / 2000, 0.001)}
            value={replay.seconds}
            onChange={replay.moveTo}
            label={null}
            size={4}
            thumbSize={20}
            thumbLabel={words.knifePage.position}
          />
          <p>
            <span>
              {format.duration(replay.seconds)} / {format.duration(seconds)}
            </span>
            <span>
              {current
                ? `${now + 1}. ${names.get(current.piece) ?? words.knifePage.frame}, ${words.knifePage.contourKinds[current.kind]}`
                : words.knifePage.home}
            </span>
          </p>
        </div>
        <SegmentedControl
          size="xs"
          aria-label={words.knifePage.speed}
          value={speed}
          onChange={setSpeed}
          data={speeds.map((value) => ({ value, label: `${value}×` }))}
        />
        <Switch
          label={words.knifePage.numbers}
          checked={numbers}
          onChange={(event) => setNumbers(event.currentTarget.checked)}
        />
        <ul className={classes.kinds}>
          <li data-kind="travel">{words.knifePage.kinds.travel}</li>
          <li data-kind="cut">{words.knifePage.kinds.cut}</li>
          <li data-kind="done">{words.knifePage.done}</li>
        </ul>
      </section>
    </div>
  );
}
