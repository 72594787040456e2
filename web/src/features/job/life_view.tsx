import { Button, Textarea } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import type { Job, JobState } from "@/api/client";
import { type Installation, useInstallation } from "@/api/installation_queries";
import { useMoveJob } from "@/api/job_queries";
import { useJobGlass } from "@/api/queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { life, needsReason, skippedStep, type Step, workPage } from "./life";
import classes from "./job.module.css";

/** Where the job is, what it waits for, and where it may be moved. */
export function Life({ job }: { job: Job }) {
  const { words } = useReader();
  const installation = useInstallation(job.id);
  const at = life.indexOf(job.state);
  return (
    <Sheet title={words.jobPage.life}>
      <ol className={classes.life}>
        {life.map((state, index) => (
          <li
            key={state}
            data-standing={index < at ? "done" : index === at ? "now" : "ahead"}
            aria-current={index === at ? "step" : undefined}
          >
            {words.states[state]}
            {index < at && <span className={classes.hidden}>, {words.jobPage.done}</span>}
          </li>
        ))}
      </ol>
      {job.state === "cancelled" && <Note tone="plain" lines={[words.jobPage.isCancelled]} />}
      {installation.error && (
        <Trouble error={installation.error} again={() => void installation.refetch()} />
      )}
      {installation.data && <Next job={job} installation={installation.data} />}
    </Sheet>
  );
}

interface NextProps {
  job: Job;
  installation: Installation;
}

function Next({ job, installation }: NextProps) {
  const { words } = useReader();
  const page = words.jobPage;
  const [to, setTo] = useState<JobState>();
  const glass = useJobGlass(job.id);
  const base = `/jobs/${encodeURIComponent(job.id)}`;
  const { steps } = installation;
  const open = glass.data?.open.length ?? 0;
  const stepPage = job.state === "installing" && steps.pieces ? "handover" : workPage[job.state];
  const next = page.next[job.state];
  const isPlanned = ["scoped", "laid_out", "cut_planned"].includes(job.state);
  return (
    <div className={classes.next}>
      <h3>{page.nextTitle}</h3>
      <p>{next}</p>
      {open > 0 && isPlanned && (
        <Note
          tone="caution"
          lines={[words.glassPage.open(open), words.glassPage.openText]}
          action={<Link href={`${base}/glass`}>{page.toGlass}</Link>}
        />
      )}
      {["installing", "inspected", "handed_over"].includes(job.state) && (
        <Steps job={job} installation={installation} />
      )}
      <div className={classes.moves}>
        {stepPage && (
          <Button component={Link} href={`${base}/${stepPage}`}>
            {page.go[stepPage as keyof typeof page.go]}
          </Button>
        )}
        {job.state === "handed_over" && (
          <Button component={Link} href={`/aftercare?job=${encodeURIComponent(job.id)}`}>
            {words.aftercare.title}
          </Button>
        )}
        {job.moves.map((state) => (
          <Button
            key={state}
            variant={state === "cancelled" ? "subtle" : "default"}
            onClick={() => setTo(state)}
          >
            {moveName(page.moves, job.state, state)}
          </Button>
        ))}
      </div>
      {to && (
        <MoveDialog
          job={job}
          to={to}
          steps={steps}
          title={moveName(page.moves, job.state, to)}
          onClose={() => setTo(undefined)}
        />
      )}
    </div>
  );
}

const moveName = (moves: Record<string, string>, from: JobState, to: JobState) =>
  (from === "inspected" && to === "installing" ? moves["mend"] : moves[to]) ?? to;

/** The required steps, each done or open, and why it is required. */
function Steps({ job, installation }: NextProps) {
  const { words } = useReader();
  const page = words.jobPage;
  const on = new Set(installation.pieces.map(({ panel }) => panel));
  const covered = job.scope.filter(({ panel }) => on.has(panel)).length;
  const steps: Step[] = ["pieces", "inspection", "hand_over"];
  return (
    <ul className={classes.steps} aria-label={page.required}>
      {steps.map((step) => (
        <li key={step} data-done={installation.steps[step]}>
          <b>{installation.steps[step] ? page.stepDone : page.stepOpen}</b>
          <span>
            {page.steps[step]}
            {step === "pieces" && ` (${covered} / ${job.scope.length})`}
          </span>
          <small>{page.why[step]}</small>
        </li>
      ))}
    </ul>
  );
}

interface MoveDialogProps {
  job: Job;
  to: JobState;
  steps: Installation["steps"];
  title: string;
  onClose: () => void;
}

function MoveDialog({ job, to, steps, title, onClose }: MoveDialogProps) {
  const { words } = useReader();
  const page = words.jobPage;
  const move = useMoveJob(job);
  const [reason, setReason] = useState("");
  const skipped = skippedStep(to, steps);
  const mustSay = needsReason(job.state, to, steps);
  return (
    <Dialog title={title} onClose={onClose}>
      <EntryForm
        submit={title}
        onSubmit={() => move.mutate({ to, reason: reason.trim() }, { onSuccess: onClose })}
        busy={move.isPending}
        error={move.error}
        disabled={mustSay && reason.trim() === ""}
      >
        <p>
          {words.states[job.state]} → {words.states[to]}
        </p>
        {skipped && (
          <Note tone="caution" lines={[page.skips(page.steps[skipped]), page.why[skipped]]} />
        )}
        {mustSay && (
          <Textarea
            label={page.reason}
            description={page.reasonText}
            value={reason}
            maxLength={500}
            autosize
            minRows={2}
            onChange={(event) => setReason(event.currentTarget.value)}
            required
            data-autofocus
          />
        )}
      </EntryForm>
    </Dialog>
  );
}
