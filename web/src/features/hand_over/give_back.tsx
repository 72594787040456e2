import { Textarea, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import type { Job } from "@/api/client";
import { type Installation, useHandOver } from "@/api/installation_queries";
import { useIsOne } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { PaperLinks } from "@/parts/paper_links";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./hand_over.module.css";

/** The vehicle given back: who signs for it, and the papers that go with it. */
export function GiveBack({ job, installation }: { job: Job; installation: Installation }) {
  const { words, format } = useReader();
  const page = words.handOver;
  const mayGive = useIsOne("lead", "desk");
  const last = installation.hand_overs.at(-1);
  const certificate = installation.certificates.at(-1);
  return (
    <Sheet title={page.giveBack}>
      {last && (
        <div className={classes.verdict} data-passed="true">
          <strong>{page.received(last.received_by)}</strong>
          <span>
            {last.given_by} · {format.instant(last.at)}
          </span>
          {last.declined && (
            <p>
              {page.declined}: {last.declined}
            </p>
          )}
          {last.note && <p>{last.note}</p>}
        </div>
      )}
      {certificate && (
        <p>
          {words.aftercare.certificate} {certificate.id}, {format.day(certificate.issued)}
          {certificate.terms.map(({ film, name, months }) => (
            <span key={film} className={classes.term}>
              {name}: {months > 0 ? page.months(months) : page.noTerm}
            </span>
          ))}
        </p>
      )}
      {job.state !== "inspected" && !last && (
        <Note tone="plain" lines={[page.notInspected, page.notInspectedText]} />
      )}
      {job.state === "inspected" && mayGive && <GiveForm job={job} />}
      <PaperLinks job={job.id} only={["certificate", "care"]} />
      {job.state === "handed_over" && (
        <p>
          <Link href={`/aftercare?job=${encodeURIComponent(job.id)}`}>{page.later}</Link>
        </p>
      )}
    </Sheet>
  );
}

function GiveForm({ job }: { job: Job }) {
  const { words } = useReader();
  const page = words.handOver;
  const give = useHandOver(job.id);
  const [draft, setDraft] = useState({ received_by: job.customer, declined: "", note: "" });
  return (
    <EntryForm
      label={page.giveBack}
      submit={page.give}
      onSubmit={() => give.mutate(draft)}
      busy={give.isPending}
      error={give.error}
      disabled={draft.received_by.trim().length < 2}
    >
      <TextInput
        label={page.receivedBy}
        description={page.receivedByText}
        value={draft.received_by}
        maxLength={240}
        onChange={(event) => setDraft({ ...draft, received_by: event.currentTarget.value })}
        required
      />
      <Textarea
        label={page.declined}
        description={page.declinedText}
        value={draft.declined}
        maxLength={2000}
        autosize
        onChange={(event) => setDraft({ ...draft, declined: event.currentTarget.value })}
      />
      <Textarea
        label={page.note}
        value={draft.note}
        maxLength={2000}
        autosize
        onChange={(event) => setDraft({ ...draft, note: event.currentTarget.value })}
      />
    </EntryForm>
  );
}
