import { Anchor, Button, NumberInput, TagsInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import { ServerProblem } from "@/api/client";
import { useChangeWorkplace, useWorkplace } from "@/api/plan";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { Bays } from "./bays";
import { emptyWorkplace, type WorkplaceForm } from "./form";
import { Holidays } from "./holidays";
import { People } from "./people";
import { Way } from "./way";
import classes from "./workplace.module.css";

/** Who works when, the bays, the days off, and the way of working: what the plan stands on. */
export default function WorkplacePage() {
  const { words } = useReader();
  const kept = useWorkplace();
  const change = useChangeWorkplace();
  const none = kept.error instanceof ServerProblem && kept.error.code === "not_found";
  return (
    <div className={classes.page}>
      {kept.error && !none && <Trouble error={kept.error} again={() => void kept.refetch()} />}
      {kept.isPending && <p aria-busy="true">{words.waiting}</p>}
      {kept.data && (
        <Form
          key={kept.data.revision}
          change={change}
          revision={kept.data.revision ?? 0}
          kept={kept.data.workplace as WorkplaceForm}
        />
      )}
      {none && (
        <Form
          change={change}
          revision={0}
          kept={emptyWorkplace(Intl.DateTimeFormat().resolvedOptions().timeZone)}
        />
      )}
    </div>
  );
}

interface FormProps {
  change: ReturnType<typeof useChangeWorkplace>;
  revision: number;
  kept: WorkplaceForm;
}

function Form({ change, revision, kept }: FormProps) {
  const { words } = useReader();
  const [place, setPlace] = useState(kept);
  const [faults, setFaults] = useState<ReadonlySet<string>>(new Set());
  const same = JSON.stringify(place) === JSON.stringify(kept);
  const tell = (field: string, wrong: boolean) =>
    setFaults((before) => {
      const after = new Set(before);
      if (wrong) after.add(field);
      else after.delete(field);
      return after;
    });
  return (
    <form
      className={classes.form}
      aria-label={words.workplace.title}
      onSubmit={(event) => {
        event.preventDefault();
        change.mutate({ revision, workplace: place });
      }}
    >
      <header className={classes.head}>
        <h1>{words.workplace.title}</h1>
        <Anchor component={Link} to="/plan">
          {words.workplace.toPlan}
        </Anchor>
        <Button type="submit" disabled={same || faults.size > 0} loading={change.isPending}>
          {words.workplace.save}
        </Button>
      </header>
      <div aria-live="polite">
        {change.error && <Trouble error={change.error} />}
        {faults.size > 0 && <Note tone="caution" lines={[words.workplace.hoursWrong]} />}
        {same && change.isSuccess && <Note tone="plain" lines={[words.workplace.saved]} />}
      </div>
      <People place={place} set={setPlace} tell={tell} />
      <Bays place={place} set={setPlace} />
      <Holidays place={place} set={setPlace} />
      <Way place={place} set={setPlace} />
      <Sheet title={words.workplace.rules}>
        <div className={classes.line}>
          <TextInput
            size="xs"
            label={words.workplace.zone}
            value={place.zone}
            onChange={(event) => setPlace({ ...place, zone: event.currentTarget.value })}
          />
          <NumberInput
            size="xs"
            label={words.workplace.moveMinutes}
            min={0}
            max={240}
            value={place.move_minutes ?? 15}
            onChange={(value) => setPlace({ ...place, move_minutes: Number(value) })}
          />
          <NumberInput
            size="xs"
            label={words.workplace.atVehicle}
            min={1}
            max={9}
            value={place.people_at_a_vehicle ?? 2}
            onChange={(value) => setPlace({ ...place, people_at_a_vehicle: Number(value) })}
          />
          <TagsInput
            size="xs"
            label={words.workplace.skills}
            value={place.skills}
            onChange={(skills) => setPlace({ ...place, skills })}
          />
          <TagsInput
            size="xs"
            label={words.workplace.features}
            value={place.features}
            onChange={(features) => setPlace({ ...place, features })}
          />
        </div>
      </Sheet>
    </form>
  );
}
