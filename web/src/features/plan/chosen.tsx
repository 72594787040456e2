import { Button, NativeSelect, NumberInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { type MoveAnswer, type Plan, tryMove, type useChangePlan, type WorkMove } from "@/api/plan";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { wallTime, moment } from "./scale";
import { Slips } from "./slips";
import classes from "./plan.module.css";

/** A task with one of its people, or a vehicle in a bay. */
export interface Chosen {
  job: string;
  task?: string;
  person?: string;
  bay?: string;
}

export const sameChoice = (a: Chosen, b: Chosen) => a.job === b.job && a.task === b.task;

interface ChosenProps {
  plan: Plan;
  chosen: Chosen;
  change: ReturnType<typeof useChangePlan>;
  show: (ghost: MoveAnswer | undefined) => void;
}

/** What was chosen on the board: its times, what to report of it, and where else it could be. */
export function ChosenSheet({ plan, chosen, change, show }: ChosenProps) {
  const { words, format } = useReader();
  const job = plan.jobs.find(({ id }) => id === chosen.job);
  const task = job?.tasks.find(({ id }) => id === chosen.task);
  if (!job) return null;
  const at = task?.from ?? job.tasks.find(({ state }) => state === "open")?.from ?? plan.now;
  const until = task?.until ?? job.end;
  const bay = task ? task.bay : chosen.bay;
  const begun = job.tasks.some(({ state }) => state !== "open");
  return (
    <Sheet title={task ? `${job.title}: ${task.id}` : job.title}>
      <p className={classes.facts}>
        {format.moment(at)}
        {until && ` – ${format.moment(until)}`}
        {bay && ` · ${bay}`}
        {task && task.people.length > 0 && ` · ${task.people.join(", ")}`}
      </p>
      {task && <Reports key={task.id} job={job.id} task={task} change={change} />}
      {task?.state !== "begun" && task?.state !== "finished" && (
        <MoveForm
          key={`${job.id} ${task?.id} ${at}`}
          plan={plan}
          chosen={chosen}
          at={at}
          change={change}
          show={show}
        />
      )}
      {!task && !begun && (
        <Button size="xs" variant="subtle" color="red" onClick={() => change.drop.mutate(job.id)}>
          {words.plan.takeOut}
        </Button>
      )}
    </Sheet>
  );
}

interface ReportsProps {
  job: string;
  task: { id: string; state: "open" | "begun" | "finished" };
  change: ReturnType<typeof useChangePlan>;
}

function Reports({ job, task, change }: ReportsProps) {
  const { words } = useReader();
  const [minutes, setMinutes] = useState<number | string>(60);
  const tell = (what: "started" | "finished" | "delayed" | "redone", more: object = {}) =>
    change.report.mutate({ what, job, task: task.id, ...more });
  return (
    <div className={classes.reports}>
      {task.state === "open" && (
        <Button size="xs" variant="default" onClick={() => tell("started")}>
          {words.plan.started}
        </Button>
      )}
      {task.state !== "finished" && (
        <Button size="xs" variant="default" onClick={() => tell("finished")}>
          {words.plan.finished}
        </Button>
      )}
      {task.state !== "open" && (
        <Button size="xs" variant="default" onClick={() => tell("redone")}>
          {words.plan.redo}
        </Button>
      )}
      {task.state !== "finished" && (
        <form
          className={classes.delay}
          onSubmit={(event) => {
            event.preventDefault();
            tell("delayed", { minutes: Number(minutes) });
          }}
        >
          <NumberInput
            size="xs"
            w={84}
            min={5}
            max={5000}
            step={15}
            value={minutes}
            onChange={setMinutes}
            aria-label={words.plan.minutes}
          />
          <Button size="xs" variant="default" type="submit">
            {words.plan.longer}
          </Button>
        </form>
      )}
      {change.report.error && <Trouble error={change.report.error} />}
    </div>
  );
}

/** The same as dragging, by choice and typing. */
function MoveForm({
  plan,
  chosen,
  at,
  change,
  show,
}: Omit<ChosenProps, "chosen"> & { chosen: Chosen; at: string }) {
  const { words } = useReader();
  const [from, setFrom] = useState(at);
  const [person, setPerson] = useState(chosen.person ?? "");
  const [bay, setBay] = useState("");
  const [answer, setAnswer] = useState<MoveAnswer>();
  const [fault, setFault] = useState<unknown>();
  const move: WorkMove = chosen.task
    ? { job: chosen.job, task: chosen.task, from, person, instead_of: chosen.person ?? "" }
    : { job: chosen.job, from, bay };
  const see = async () => {
    setFault(undefined);
    try {
      const found = await tryMove(move);
      setAnswer(found);
      show(found);
    } catch (error) {
      setFault(error);
    }
  };
  return (
    <form
      className={classes.moveForm}
      onSubmit={(event) => {
        event.preventDefault();
        void see();
      }}
    >
      <TextInput
        size="xs"
        type="datetime-local"
        label={words.plan.moveTo}
        value={from}
        step={900}
        onChange={(event) => setFrom(event.currentTarget.value || wallTime(moment(at)))}
      />
      {chosen.task && chosen.person && (
        <NativeSelect
          size="xs"
          label={words.plan.by}
          value={person}
          data={plan.people.map(({ id }) => id)}
          onChange={(event) => setPerson(event.currentTarget.value)}
        />
      )}
      {!chosen.task && (
        <NativeSelect
          size="xs"
          label={words.plan.bay}
          value={bay}
          data={[
            { value: "", label: words.plan.anyBay },
            ...plan.bays.map(({ id }) => ({ value: id, label: id })),
          ]}
          onChange={(event) => setBay(event.currentTarget.value)}
        />
      )}
      <div className={classes.row}>
        <Button size="xs" variant="default" type="submit">
          {words.plan.whatIf}
        </Button>
        <Button
          size="xs"
          disabled={!answer?.stands}
          onClick={() => {
            change.move.mutate(move);
            show(undefined);
          }}
        >
          {words.plan.keep}
        </Button>
      </div>
      {answer && <Verdict answer={answer} />}
      {Boolean(fault ?? change.move.error) && <Trouble error={fault ?? change.move.error} />}
    </form>
  );
}

/** Whether a move can be, why not, and what it would break. */
export function Verdict({ answer }: { answer: MoveAnswer }) {
  const { words } = useReader();
  const told = !answer.stands
    ? words.plan.cannot
    : answer.others_move
      ? words.plan.othersMove(answer.ghost.length)
      : words.plan.stands;
  return (
    <>
      <Note
        tone={answer.stands && answer.slips.length === 0 ? "plain" : "caution"}
        lines={[told, ...(answer.others_move ? [] : answer.reasons.slice(0, 3))]}
      />
      <Slips slips={answer.slips} />
    </>
  );
}
