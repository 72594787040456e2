import { useId } from "react";
import type { MoveAnswer, Plan, PlanJob, PlanTask } from "@/api/plan";
import { useReader } from "@/words/preferences";
import { type Chosen, sameChoice } from "./chosen";
import type { Scale } from "./scale";
import { moment } from "./scale";
import type { Grip } from "./use_drag";
import classes from "./plan.module.css";

export const gutter = 150; // names of the lanes
const head = 54;
const lane = 46;
const heading = 26;

export interface Lane {
  kind: "bay" | "person";
  id: string;
  y: number;
}

/** Where each bay and person has its lane. */
export function lanesOf(plan: Plan): { lanes: Lane[]; people: number; height: number } {
  let y = head + heading;
  const lanes: Lane[] = plan.bays.map(({ id }) => ({ kind: "bay", id, y: (y += lane) - lane }));
  const people = y;
  y += heading;
  lanes.push(
    ...plan.people.map(({ id }) => ({ kind: "person" as const, id, y: (y += lane) - lane })),
  );
  return { lanes, people, height: y + 8 };
}

export const hueOf = (plan: Plan, job: string) =>
  (47 +
    83 *
      Math.max(
        0,
        plan.jobs.findIndex(({ id }) => id === job),
      )) %
  360;

interface BoardProps {
  plan: Plan;
  scale: Scale;
  chosen: Chosen | undefined;
  choose: (chosen: Chosen) => void;
  grip: Grip | undefined;
  ghost: MoveAnswer | undefined;
  onGrab: (event: React.PointerEvent, chosen: Chosen, from: string) => void;
}

/** Bays and people across the days. What is drawn can be taken hold of, or chosen by keyboard. */
export function Board({ plan, scale, chosen, choose, grip, ghost, onGrab }: BoardProps) {
  const { words, language } = useReader();
  const { lanes, people, height } = lanesOf(plan);
  const hatch = useId();
  const laneOf = (kind: Lane["kind"], id: string) =>
    lanes.find((one) => one.kind === kind && one.id === id);
  const now = scale.x(moment(plan.now));
  const block = { plan, scale, laneOf, chosen, choose, onGrab };
  return (
    <svg
      className={classes.board}
      width={gutter + scale.span}
      height={height}
      role="group"
      aria-label={words.plan.board}
      data-board
    >
      <defs>
        <pattern id={hatch} width={7} height={7} patternUnits="userSpaceOnUse">
          <path d="M-1 8L8 -1" className={classes.hatch} />
        </pattern>
      </defs>
      <g transform={`translate(${gutter} 0)`}>
        {lanes.map((one) => (
          <rect
            key={one.kind + one.id}
            className={classes.lane}
            width={scale.span}
            y={one.y}
            height={lane}
          />
        ))}
        <Hours plan={plan} scale={scale} laneOf={laneOf} />
        <Days scale={scale} height={height} language={language} />
        {plan.jobs.map((job) => (
          <JobBlocks key={job.id} job={job} hatch={hatch} {...block} />
        ))}
        {ghost?.ghost.map((job) => (
          <Ghost key={job.id} plan={plan} job={job} scale={scale} laneOf={laneOf} />
        ))}
        {plan.jobs.map((job) => (
          <Pennant key={job.id} plan={plan} job={job} scale={scale} height={height} />
        ))}
        {grip && (
          <rect
            className={classes.grip}
            data-stands={ghost?.stands}
            x={scale.x(moment(grip.from))}
            y={(laneOf(grip.kind, grip.lane)?.y ?? 0) + 4}
            width={Math.max(10, grip.width)}
            height={lane - 8}
            rx={5}
          />
        )}
        <line className={classes.now} x1={now} x2={now} y1={head - 16} y2={height} />
      </g>
      <g className={classes.names} aria-hidden="true">
        <rect className={classes.gutter} width={gutter} height={height} />
        <text className={classes.part} x={16} y={head + heading - 8}>
          {words.plan.bays}
        </text>
        <text className={classes.part} x={16} y={people + heading - 8}>
          {words.plan.people}
        </text>
        {lanes.map((one) => (
          <text key={one.kind + one.id} x={16} y={one.y + lane / 2 + 5}>
            {one.id}
          </text>
        ))}
      </g>
    </svg>
  );
}

type LaneOf = (kind: Lane["kind"], id: string) => Lane | undefined;

function Hours({ plan, scale, laneOf }: { plan: Plan; scale: Scale; laneOf: LaneOf }) {
  return plan.people.flatMap((person) =>
    person.hours
      .map(({ from, until }) => ({ from: moment(from), until: moment(until) }))
      .filter(({ from, until }) => until > scale.first && from < scale.end)
      .map(({ from, until }) => (
        <rect
          key={person.id + from}
          className={classes.hours}
          x={scale.x(from)}
          width={scale.x(until) - scale.x(from)}
          y={laneOf("person", person.id)?.y}
          height={lane}
        />
      )),
  );
}

function Days({ scale, height, language }: { scale: Scale; height: number; language: string }) {
  const name = new Intl.DateTimeFormat(language, {
    weekday: "short",
    day: "numeric",
    month: "short",
    timeZone: "UTC",
  });
  return Array.from({ length: scale.days }, (_, index) => (
    <g key={index} transform={`translate(${index * scale.width} 0)`}>
      <line className={classes.day} y1={head - 22} y2={height} />
      <text className={classes.dayName} x={8} y={20}>
        {name.format(scale.dayAt(index))}
      </text>
      {scale.width >= 120 &&
        [9, 12, 15].map((clock) => (
          <text
            key={clock}
            className={classes.clock}
            x={scale.x(scale.dayAt(0) + clock * 3_600_000)}
            y={head - 8}
          >
            {clock}
          </text>
        ))}
    </g>
  ));
}

interface BlockProps {
  plan: Plan;
  scale: Scale;
  laneOf: LaneOf;
  chosen: Chosen | undefined;
  choose: (chosen: Chosen) => void;
  onGrab: BoardProps["onGrab"];
}

/** The vehicle in its bays, and its tasks with the people who do them. */
function JobBlocks({ job, hatch, ...block }: BlockProps & { job: PlanJob; hatch: string }) {
  return (
    <g style={{ "--hue": hueOf(block.plan, job.id) } as React.CSSProperties}>
      {job.stays.map((stay) => (
        <Stay key={stay.from + stay.bay} job={job} stay={stay} hatch={hatch} {...block} />
      ))}
      {job.tasks.flatMap((task) =>
        task.people.map((person) => (
          <Work key={task.id + person} job={job} task={task} person={person} {...block} />
        )),
      )}
    </g>
  );
}

/** What a button inside the drawing needs, so that keyboard and pointer do the same. */
function asButton(label: string, act: () => void) {
  return {
    role: "button",
    tabIndex: 0,
    "aria-label": label,
    onKeyDown: (event: React.KeyboardEvent) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      act();
    },
    onClick: act,
  };
}

function Stay({
  job,
  stay,
  hatch,
  plan,
  scale,
  laneOf,
  chosen,
  choose,
  onGrab,
}: BlockProps & { job: PlanJob; stay: PlanJob["stays"][number]; hatch: string }) {
  const { words, format } = useReader();
  const at = laneOf("bay", stay.bay);
  const [from, until] = [moment(stay.from), moment(stay.until)];
  if (!at || until <= scale.first || from >= scale.end) return null;
  const x = scale.x(Math.max(from, scale.first));
  const width = Math.max(3, scale.x(Math.min(until, scale.end)) - x);
  const self: Chosen = { job: job.id, bay: stay.bay };
  const waits = job.tasks.filter(
    ({ hands, bay, from: begin }) =>
      hands === 0 && bay === stay.bay && begin && begin >= stay.from && begin <= stay.until,
  );
  const label = words.plan.stay(
    job.title,
    stay.bay,
    format.moment(stay.from),
    format.moment(stay.until),
  );
  return (
    <g
      className={classes.stay}
      data-late={!job.kept}
      data-chosen={chosen && sameChoice(chosen, self)}
      onPointerDown={(event) => onGrab(event, self, stay.from)}
      {...asButton(label, () => choose(self))}
    >
      <title>{label}</title>
      <rect x={x} y={at.y + 4} width={width} height={lane - 8} rx={5} />
      {waits.map(({ id, from: begin, until: end }) => {
        const left = scale.x(Math.max(moment(begin ?? ""), scale.first));
        return (
          <rect
            key={id}
            className={classes.wait}
            fill={`url(#${hatch})`}
            x={left}
            y={at.y + lane - 17}
            width={Math.max(0, Math.min(scale.x(moment(end ?? "")), x + width) - left)}
            height={12}
          />
        );
      })}
      <Name x={x} y={at.y + 22} width={width} text={job.title} plan={plan} />
    </g>
  );
}

function Work({
  job,
  task,
  person,
  plan,
  scale,
  laneOf,
  chosen,
  choose,
  onGrab,
}: BlockProps & { job: PlanJob; task: PlanTask; person: string }) {
  const { words, format } = useReader();
  const at = laneOf("person", person);
  if (!at || !task.from || !task.until) return null;
  const [from, until] = [moment(task.from), moment(task.until)];
  if (until <= scale.first || from >= scale.end) return null;
  const x = scale.x(Math.max(from, scale.first));
  const width = Math.max(2, scale.x(Math.min(until, scale.end)) - x);
  const self: Chosen = { job: job.id, task: task.id, person };
  const label = words.plan.work(
    job.title,
    task.id,
    person,
    format.moment(task.from),
    format.moment(task.until),
    words.plan.states[task.state],
  );
  return (
    <g
      className={classes.work}
      data-state={task.state}
      data-late={!job.kept}
      data-chosen={chosen && sameChoice(chosen, self)}
      onPointerDown={(event) => task.state === "open" && onGrab(event, self, task.from ?? "")}
      {...asButton(label, () => choose(self))}
    >
      <title>{label}</title>
      <rect x={x} y={at.y + 4} width={width} height={lane - 8} rx={4} />
      <Name x={x} y={at.y + 20} width={width} text={job.title} plan={plan} />
      <Name x={x} y={at.y + 34} width={width} text={task.id} plan={plan} small />
    </g>
  );
}

/** A text that stays inside its block, or is left out where nothing of it would be read. */
function Name(props: {
  x: number;
  y: number;
  width: number;
  text: string;
  plan: Plan;
  small?: boolean;
}) {
  const room = Math.floor((props.width - 8) / (props.small ? 5.6 : 6.6));
  if (room < 3) return null;
  const text = props.text.length > room ? `${props.text.slice(0, room - 1)}…` : props.text;
  return (
    <text className={props.small ? classes.small : undefined} x={props.x + 5} y={props.y}>
      {text}
    </text>
  );
}

/** Where a job would stand with the move that is tried. */
function Ghost(props: { plan: Plan; job: PlanJob; scale: Scale; laneOf: LaneOf }) {
  const { plan, job, scale, laneOf } = props;
  const outline = (key: string, from: string, until: string, at: Lane | undefined) =>
    at && moment(until) > scale.first && moment(from) < scale.end ? (
      <rect
        key={key}
        x={scale.x(moment(from))}
        y={at.y + 2}
        width={Math.max(2, scale.x(moment(until)) - scale.x(moment(from)))}
        height={lane - 4}
        rx={5}
      />
    ) : null;
  return (
    <g
      className={classes.ghost}
      style={{ "--hue": hueOf(plan, job.id) } as React.CSSProperties}
      aria-hidden="true"
    >
      {job.stays.map((s) => outline(s.bay + s.from, s.from, s.until, laneOf("bay", s.bay)))}
      {job.tasks.flatMap((task) =>
        task.people.map((person) =>
          outline(task.id + person, task.from ?? "", task.until ?? "", laneOf("person", person)),
        ),
      )}
    </g>
  );
}

/** A pennant at the promised time of a vehicle. */
function Pennant(props: { plan: Plan; job: PlanJob; scale: Scale; height: number }) {
  const { plan, job, scale, height } = props;
  if (!job.promise) return null;
  const at = moment(job.promise);
  if (at < scale.first || at > scale.end) return null;
  const x = scale.x(at);
  return (
    <g
      className={classes.pennant}
      data-late={!job.kept}
      style={{ "--hue": hueOf(plan, job.id) } as React.CSSProperties}
      aria-hidden="true"
    >
      <line x1={x} x2={x} y1={26} y2={height} />
      <path d={`M${x} 26l-13 5.5l13 5.5Z`} />
    </g>
  );
}
