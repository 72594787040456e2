import { Button, Radio, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Job } from "@/api/client";
import { type Inspection, type Installation, useInspect } from "@/api/installation_queries";
import { useIsOne } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { PaperLinks } from "@/parts/paper_links";
import { PhotoField, Photos } from "@/parts/photo_field";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import {
  type Finding,
  type Findings,
  findingsToKeep,
  looked,
  nothingFound,
  restGood,
} from "./findings";
import classes from "./hand_over.module.css";

interface InspectingProps {
  job: Job;
  installation: Installation;
}

/** The walk round the vehicle with the list, and what the last one found. */
export function Inspecting({ job, installation }: InspectingProps) {
  const { words } = useReader();
  const page = words.handOver;
  const last = installation.inspections.at(-1);
  const mayLook =
    useIsOne("lead", "cutter", "installer") && ["installing", "inspected"].includes(job.state);
  const [again, setAgain] = useState(false);
  const stands = installation.steps.inspection && !again;
  return (
    <Sheet title={page.inspection}>
      {last && <LastInspection installation={installation} inspection={last} />}
      {last && !installation.steps.inspection && last.passed && (
        <Note tone="caution" lines={[page.newerPiece, page.newerPieceText]} />
      )}
      {["scoped", "laid_out", "cut_planned", "released"].includes(job.state) && (
        <Note tone="plain" lines={[page.notYet, page.notYetText]} />
      )}
      {mayLook && !installation.steps.pieces && (
        <Note tone="caution" lines={[page.bare, page.bareText]} />
      )}
      {mayLook &&
        (stands ? (
          <Button variant="default" onClick={() => setAgain(true)}>
            {page.inspectAgain}
          </Button>
        ) : (
          <Checklist
            key={installation.inspections.length}
            job={job.id}
            installation={installation}
            onKept={() => setAgain(false)}
          />
        ))}
      <PaperLinks job={job.id} only={["inspection"]} />
    </Sheet>
  );
}

function LastInspection({
  installation,
  inspection,
}: {
  installation: Installation;
  inspection: Inspection;
}) {
  const { words, format, language } = useReader();
  const page = words.handOver;
  const faults = inspection.findings.filter(({ good }) => !good);
  const textOf = (item: string) => {
    const known = installation.checklist.find((one) => one.item === item);
    return (language === "de" ? known?.german : known?.text) ?? item;
  };
  return (
    <div className={classes.verdict} data-passed={inspection.passed}>
      <strong>{inspection.passed ? page.passed : page.failed(faults.length)}</strong>
      <span>
        {inspection.who} · {format.instant(inspection.at)}
      </span>
      {inspection.findings
        .filter(({ note, photo }) => note || photo)
        .map(({ item, note, photo }) => (
          <div key={item} className={classes.photos}>
            <p>
              {textOf(item)}: {note}
            </p>
            {photo && <Photos photos={[photo]} about={textOf(item)} />}
          </div>
        ))}
    </div>
  );
}

interface ChecklistProps {
  job: string;
  installation: Installation;
  onKept: () => void;
}

function Checklist({ job, installation, onKept }: ChecklistProps) {
  const { words, language } = useReader();
  const page = words.handOver;
  const { checklist } = installation;
  const inspect = useInspect(job);
  const [findings, setFindings] = useState<Findings>({});
  const ready = findingsToKeep(checklist, findings);
  const faults = checklist.filter(({ item }) => findings[item]?.good === false).length;
  const change = (item: string, part: Partial<Finding>) =>
    setFindings((before) => ({
      ...before,
      [item]: { ...nothingFound, ...before[item], ...part },
    }));
  return (
    <EntryForm
      label={page.inspection}
      submit={faults > 0 ? page.keepFaults(faults) : page.keepPassed}
      onSubmit={() => ready && inspect.mutate(ready, { onSuccess: onKept })}
      busy={inspect.isPending}
      error={inspect.error}
      disabled={!ready}
    >
      <div className={classes.progress}>
        <span role="status">{page.looked(looked(checklist, findings), checklist.length)}</span>
        <Button
          variant="default"
          size="compact-sm"
          onClick={() => setFindings(restGood(checklist, findings))}
        >
          {page.restGood}
        </Button>
      </div>
      <div className={classes.list}>
        {checklist.map(({ item, text, german }) => (
          <Item
            key={item}
            job={job}
            text={language === "de" ? german : text}
            finding={findings[item] ?? nothingFound}
            onChange={(part) => change(item, part)}
          />
        ))}
      </div>
    </EntryForm>
  );
}

interface ItemProps {
  job: string;
  text: string;
  finding: Finding;
  onChange: (part: Partial<Finding>) => void;
}

function Item({ job, text, finding, onChange }: ItemProps) {
  const { words } = useReader();
  const page = words.handOver;
  const { good, note, photo } = finding;
  return (
    <div className={classes.item} data-good={good}>
      <Radio.Group
        label={text}
        value={good === undefined ? "" : good ? "good" : "fault"}
        onChange={(value) => onChange({ good: value === "good" })}
      >
        <div className={classes.answers}>
          <Radio value="good" label={page.good} />
          <Radio value="fault" label={page.fault} />
        </div>
      </Radio.Group>
      {good === false && (
        <div className={classes.fault}>
          <TextInput
            label={page.what}
            value={note}
            maxLength={2000}
            onChange={(event) => onChange({ note: event.currentTarget.value })}
            required
          />
          <PhotoField
            job={job}
            about={text}
            photos={photo ? [photo] : []}
            onAdd={(hash) => onChange({ photo: hash })}
          />
        </div>
      )}
    </div>
  );
}
