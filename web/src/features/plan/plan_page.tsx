import { Button, NativeSelect, SegmentedControl, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import {
  type MoveAnswer,
  type Plan,
  tryMove,
  useChangePlan,
  usePlan,
  usePlanHistory,
  type WorkMove,
} from "@/api/plan";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { Board } from "./board";
import { type Chosen, ChosenSheet, Verdict } from "./chosen";
import { Counter } from "./counter";
import { Promises } from "./promises";
import { Scale } from "./scale";
import { Today } from "./today";
import { useDrag } from "./use_drag";
import classes from "./plan.module.css";

const widths: Record<string, number> = { "3": 330, "7": 150, "14": 84 };

/** The shop's plan: who does what, when and where, what was promised, and what if. */
export default function PlanPage() {
  const { words } = useReader();
  const plan = usePlan();
  return (
    <div className={classes.page}>
      {plan.error && <Trouble error={plan.error} again={() => void plan.refetch()} />}
      {plan.data && <Whole plan={plan.data} />}
      {plan.isPending && <p>{words.waiting}</p>}
    </div>
  );
}

function Whole({ plan }: { plan: Plan }) {
  const { words } = useReader();
  const change = useChangePlan();
  const [days, setDays] = useState("7");
  const [chosen, setChosen] = useState<Chosen>();
  const [tried, setTried] = useState<MoveAnswer>();
  const [refused, setRefused] = useState<MoveAnswer>();
  const [counter, setCounter] = useState(false);
  const scale = Scale.from(plan.now, Number(days), widths[days] ?? 150);
  const drop = (move: WorkMove) => {
    setRefused(undefined);
    change.move.mutate(move, {
      onError: () => void tryMove(move).then(setRefused, () => undefined),
    });
  };
  const drag = useDrag(plan, scale, drop);
  const choose = (next: Chosen) => {
    setChosen(next);
    setTried(undefined);
    setRefused(undefined);
  };
  const late = plan.jobs.filter(({ kept, promise }) => promise && !kept).length;
  return (
    <>
      <header className={classes.head}>
        <h1>{words.plan.title}</h1>
        <p data-late={late > 0}>{words.plan.summary(plan.jobs.length, late)}</p>
        <SegmentedControl
          size="xs"
          aria-label={words.plan.days}
          value={days}
          data={Object.keys(widths).map((value) => ({
            value,
            label: words.plan.dayCount(Number(value)),
          }))}
          onChange={setDays}
        />
        {plan.demo && (
          <Clock key={plan.now} plan={plan} set={(time) => change.clock.mutate(time)} />
        )}
        <Absence plan={plan} change={change} />
        <Button size="xs" variant="default" component={Link} to="/plan/workplace">
          {words.plan.workplace}
        </Button>
        <Button size="xs" onClick={() => setCounter(true)}>
          {words.plan.counter}
        </Button>
      </header>
      <div className={classes.main}>
        <div
          className={classes.boardFrame}
          tabIndex={0}
          role="region"
          aria-label={words.plan.board}
        >
          <Board
            plan={plan}
            scale={scale}
            chosen={chosen}
            choose={choose}
            grip={drag.grip}
            ghost={drag.grip ? drag.answer : tried}
            onGrab={drag.grab}
          />
        </div>
        <Today plan={plan} choose={choose} />
      </div>
      <aside className={classes.side} aria-label={words.plan.details}>
        <div aria-live="polite" className={classes.answers}>
          {drag.grip && drag.answer && <Verdict answer={drag.answer} />}
          {!drag.grip && refused && <Verdict answer={refused} />}
          {plan.warnings.length > 0 && <Note tone="caution" lines={plan.warnings} />}
          {(change.clock.error ?? change.drop.error) && (
            <Trouble error={change.clock.error ?? change.drop.error} />
          )}
        </div>
        {chosen && <ChosenSheet plan={plan} chosen={chosen} change={change} show={setTried} />}
        <Promises plan={plan} choose={(job) => choose({ job })} />
        <History version={plan.version} />
      </aside>
      {counter && <Counter plan={plan} change={change} close={() => setCounter(false)} />}
    </>
  );
}

/** A demo shop's clock stands until somebody sets it. */
function Clock({ plan, set }: { plan: Plan; set: (time: string) => void }) {
  const { words } = useReader();
  const [time, setTime] = useState(plan.now);
  return (
    <form
      className={classes.clockForm}
      onSubmit={(event) => {
        event.preventDefault();
        set(time);
      }}
    >
      <TextInput
        size="xs"
        type="datetime-local"
        aria-label={words.plan.clock}
        value={time}
        onChange={(event) => setTime(event.currentTarget.value)}
      />
      <Button size="xs" variant="default" type="submit">
        {words.plan.setClock}
      </Button>
    </form>
  );
}

/** Somebody called in sick: until when. */
function Absence({ plan, change }: { plan: Plan; change: ReturnType<typeof useChangePlan> }) {
  const { words } = useReader();
  const [open, setOpen] = useState(false);
  const [person, setPerson] = useState(plan.people[0]?.id ?? "");
  const [until, setUntil] = useState(`${plan.now.slice(0, 10)}T23:00`);
  if (!open)
    return (
      <Button size="xs" variant="default" onClick={() => setOpen(true)}>
        {words.plan.absence}
      </Button>
    );
  return (
    <form
      className={classes.clockForm}
      onSubmit={(event) => {
        event.preventDefault();
        change.report.mutate(
          { what: "absent", person, until },
          { onSuccess: () => setOpen(false) },
        );
      }}
    >
      <NativeSelect
        size="xs"
        aria-label={words.plan.who}
        value={person}
        data={plan.people.map(({ id }) => id)}
        onChange={(event) => setPerson(event.currentTarget.value)}
      />
      <TextInput
        size="xs"
        type="datetime-local"
        aria-label={words.plan.awayUntil}
        value={until}
        onChange={(event) => setUntil(event.currentTarget.value)}
      />
      <Button size="xs" variant="default" type="submit">
        {words.plan.awayUntil}
      </Button>
    </form>
  );
}

function History({ version }: { version: number }) {
  const { words } = useReader();
  const history = usePlanHistory(version);
  return (
    <details className={classes.history}>
      <summary>{words.plan.history}</summary>
      <ol>
        {history.data?.slice(0, 12).map((one) => (
          <li key={one.version}>
            {one.version}. {one.what}
          </li>
        ))}
      </ol>
    </details>
  );
}
