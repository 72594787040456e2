import { Button, Progress, SegmentedControl, TextInput } from "@mantine/core";
import { useEffect, useState } from "react";
import type { Job, Run, RunProgress } from "@/api/client";
import {
  useRunChanged,
  useProfiles,
  useRelease,
  useRun,
  useRunStep,
  useStopTask,
} from "@/api/queries";
import { followTask } from "@/api/task_events";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { Rests } from "./rests";
import classes from "./knife.module.css";

interface RunPanelProps {
  job: Job;
  film: string;
  /** The roll or offcut it is cut from. */
  roll: string;
  names: ReadonlyMap<string, string>;
}

/** From the released job to the cut film: started, followed, paused, gone on with, given up. */
export function RunPanel({ job, film, roll, names }: RunPanelProps) {
  const { words } = useReader();
  const run = useRun(job.id, film, roll, true);
  const step = useRunStep(job.id);
  const release = useRelease(job.id);
  const fault = step.error ?? release.error ?? run.error;
  const open = run.data && !["finished", "given_up"].includes(run.data.progress.state);
  return (
    <section className={classes.run} aria-label={words.runPanel.title}>
      <h2>{words.runPanel.title}</h2>
      {run.data && (
        <Running
          key={`${run.data.id} ${run.data.task}`}
          job={job.id}
          run={run.data}
          names={names}
          step={step}
        />
      )}
      {run.data?.progress.state === "finished" && <Rests run={run.data.id} />}
      {!open && job.moves.includes("released") && (
        <>
          <p>{words.runPanel.releaseText}</p>
          <Button variant="default" loading={release.isPending} onClick={() => release.mutate()}>
            {words.runPanel.release}
          </Button>
        </>
      )}
      {!open && job.state === "released" && (
        <Start
          film={film}
          roll={roll}
          step={step}
          again={run.data?.progress.state === "finished"}
        />
      )}
      {fault && <Trouble error={fault} />}
    </section>
  );
}

type Step = ReturnType<typeof useRunStep>;

interface StartProps {
  film: string;
  roll: string;
  step: Step;
  again: boolean;
}

function Start({ film, roll, step, again }: StartProps) {
  const { words } = useReader();
  return (
    <>
      <Note tone="caution" lines={words.runPanel.caution} />
      <Button
        variant={again ? "default" : "filled"}
        loading={step.isPending}
        onClick={() => step.mutate({ step: "start", film, roll })}
      >
        {words.runPanel.start}
      </Button>
    </>
  );
}

interface RunningProps {
  job: string;
  run: Run;
  names: ReadonlyMap<string, string>;
  step: Step;
}

function Running({ job, run, names, step }: RunningProps) {
  const { words, format } = useReader();
  const [live, setLive] = useState<RunProgress>();
  const [pausing, setPausing] = useState(false);
  const changed = useRunChanged(job);
  const stop = useStopTask();
  const profiles = useProfiles();
  const task = run.task;

  useEffect(() => {
    if (task === undefined) return;
    const end = () => void changed();
    return followTask(task, { onProgress: () => {}, onRun: setLive, onEnd: end, onLost: end });
  }, [task, changed]);

  const progress = live ?? run.progress;
  const state = task === undefined ? run.progress.state : "sending";
  const machine = profiles.data?.find(({ id }) => id === run.profile)?.name ?? run.profile;
  return (
    <>
      <p className={classes.status} role="status">
        <b>{words.runPanel.states[state]}</b>
        <span>
          {run.id} · {machine}, {run.address || words.runPanel.byFile}
        </span>
        {state !== "sending" && progress.reason && <span>{progress.reason}</span>}
      </p>
      <Progress
        value={(100 * progress.mm_cut) / Math.max(progress.mm, 1)}
        size={8}
        aria-label={words.runPanel.metres}
      />
      <div className={classes.runFigures}>
        <Figure
          size="small"
          label={words.runPanel.pieces}
          value={`${progress.pieces_cut} ${words.runPanel.of} ${progress.pieces}`}
        />
        <Figure
          size="small"
          label={words.runPanel.metres}
          value={`${format.rollLength(progress.mm_cut)} ${words.runPanel.of} ${format.rollLength(progress.mm)}`}
        />
        <Figure size="small" label={words.runPanel.film} value={format.rollLength(run.used_mm)} />
      </div>
      {task !== undefined && (
        <Button
          variant="default"
          disabled={pausing}
          onClick={() => {
            setPausing(true);
            stop.mutate(task);
          }}
        >
          {pausing ? words.runPanel.pausing : words.runPanel.pause}
        </Button>
      )}
      {task === undefined && (state === "unconfirmed" || state === "ready") && (
        <>
          {state === "unconfirmed" && <Note tone="plain" lines={[words.runPanel.unconfirmed]} />}
          <Button
            loading={step.isPending}
            onClick={() =>
              step.mutate(
                state === "unconfirmed"
                  ? { step: "confirm", run: run.id }
                  : { step: "resume", run: run.id, cut: [], uncut: [] },
              )
            }
          >
            {state === "unconfirmed" ? words.runPanel.confirm : words.runPanel.start}
          </Button>
          <GiveUp run={run.id} step={step} />
        </>
      )}
      {task === undefined && (state === "paused" || state === "interrupted") && (
        <>
          <Resume run={run} names={names} step={step} />
          <GiveUp run={run.id} step={step} />
        </>
      )}
    </>
  );
}

/** Going on, once somebody has said of each doubtful contour what the film shows. */
function Resume({ run, names, step }: Omit<RunningProps, "job">) {
  const { words } = useReader();
  const [found, setFound] = useState<Record<number, "cut" | "uncut">>({});
  const { doubtful } = run.progress;
  const contours = doubtful.map(({ contour }) => contour);
  return (
    <>
      {doubtful.length > 0 && (
        <ul className={classes.doubtful} aria-label={words.runPanel.doubtful}>
          <li>{words.runPanel.doubtful}</li>
          {doubtful.map(({ contour, piece, kind }) => (
            <li key={contour}>
              <span>
                {words.runPanel.contour} {contour + 1}, {words.knifePage.contourKinds[kind]},{" "}
                {names.get(piece) ?? piece}
              </span>
              <SegmentedControl
                size="xs"
                value={found[contour] ?? ""}
                onChange={(value) =>
                  setFound({ ...found, [contour]: value === "cut" ? "cut" : "uncut" })
                }
                data={[
                  { value: "cut", label: words.runPanel.isWhole },
                  { value: "uncut", label: words.runPanel.isNot },
                ]}
              />
            </li>
          ))}
        </ul>
      )}
      <Note tone="caution" lines={words.runPanel.caution} />
      <Button
        loading={step.isPending}
        disabled={contours.some((contour) => !found[contour])}
        onClick={() =>
          step.mutate({
            step: "resume",
            run: run.id,
            cut: contours.filter((contour) => found[contour] === "cut"),
            uncut: contours.filter((contour) => found[contour] === "uncut"),
          })
        }
      >
        {words.runPanel.resume}
      </Button>
    </>
  );
}

function GiveUp({ run, step }: { run: string; step: Step }) {
  const { words } = useReader();
  const [reason, setReason] = useState<string>();
  if (reason === undefined)
    return (
      <Button variant="subtle" onClick={() => setReason("")}>
        {words.runPanel.giveUp}
      </Button>
    );
  return (
    <>
      <TextInput
        label={words.runPanel.giveUpReason}
        value={reason}
        onChange={({ currentTarget }) => setReason(currentTarget.value)}
      />
      <Button
        variant="default"
        disabled={reason.trim() === ""}
        onClick={() => step.mutate({ step: "giveUp", run, reason: reason.trim() })}
      >
        {words.runPanel.giveUp}
      </Button>
    </>
  );
}
