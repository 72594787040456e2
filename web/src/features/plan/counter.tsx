import { Button, NativeSelect, NumberInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { type Plan, type PlanOrder, useCounter, type useChangePlan } from "@/api/plan";
import { useJobs } from "@/api/queries";
import { Dialog } from "@/parts/dialog";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { Slips } from "./slips";
import classes from "./plan.module.css";

interface CounterProps {
  plan: Plan;
  change: ReturnType<typeof useChangePlan>;
  close: () => void;
}

interface Wish {
  job: string;
  title: string;
  film: number;
  windows: number;
  lamps: number;
  coats: number;
  correction: number;
  arrives: string;
  promise: string;
}

/** The wish as the planner takes it: a job of the book, or hours of film in a few words. */
export function orderOf(wish: Wish): PlanOrder {
  const times = {
    ...(wish.arrives && { arrives: wish.arrives }),
    ...(wish.promise && { promise: wish.promise }),
  };
  if (wish.job)
    return {
      job: wish.job,
      coats: wish.coats,
      correction_hours: wish.correction,
      ...times,
    };
  const part = (id: string, hours: number) => (hours > 0 ? [{ id, hours }] : []);
  const scope = {
    zones: part("body", wish.film),
    windows: part("windows", wish.windows),
    lamps: part("lamps", wish.lamps),
    coats: wish.coats,
    correction_hours: wish.correction,
  };
  const title = wish.title || "?";
  return { work: { id: "new", title, scope }, ...times };
}

/** Somebody stands at the counter: when, by then, and what if it goes first. */
export function Counter({ plan, change, close }: CounterProps) {
  const { words, format } = useReader();
  const jobs = useJobs();
  const { promise, fits, rush } = useCounter();
  const [wish, setWish] = useState<Wish>({
    job: "",
    title: "",
    film: 3,
    windows: 0,
    lamps: 0,
    coats: 0,
    correction: 0,
    arrives: "",
    promise: "",
  });
  const set = (part: Partial<Wish>) => {
    setWish({ ...wish, ...part });
    for (const answer of [promise, fits, rush]) answer.reset();
  };
  const order = orderOf(wish);
  const free = (jobs.data ?? []).filter(({ id }) => !plan.jobs.some((job) => job.id === id));
  const busy = promise.isPending || fits.isPending || rush.isPending;
  const fault = promise.error ?? fits.error ?? rush.error ?? change.book.error;
  const hours = (label: string, value: number, key: keyof Wish, max = 200) => (
    <NumberInput
      size="xs"
      label={label}
      value={value}
      min={0}
      max={max}
      onChange={(given) => set({ [key]: Number(given) || 0 })}
    />
  );
  return (
    <Dialog opened onClose={close} title={words.plan.counter} size="lg">
      <div className={classes.counter}>
        <NativeSelect
          size="xs"
          label={words.plan.which}
          value={wish.job}
          data={[
            { value: "", label: words.plan.walkIn },
            ...free.map(({ id, title }) => ({ value: id, label: `${id} ${title}` })),
          ]}
          onChange={(event) => set({ job: event.currentTarget.value })}
        />
        {!wish.job && (
          <>
            <TextInput
              size="xs"
              label={words.plan.name}
              value={wish.title}
              maxLength={80}
              onChange={(event) => set({ title: event.currentTarget.value })}
            />
            <div className={classes.hoursRow}>
              {hours(words.plan.filmHours, wish.film, "film")}
              {hours(words.plan.windowHours, wish.windows, "windows")}
              {hours(words.plan.lampHours, wish.lamps, "lamps")}
            </div>
          </>
        )}
        <div className={classes.hoursRow}>
          {hours(words.plan.correctionHours, wish.correction, "correction")}
          {hours(words.plan.coats, wish.coats, "coats", 10)}
        </div>
        <div className={classes.hoursRow}>
          <TextInput
            size="xs"
            type="datetime-local"
            label={words.plan.arrives}
            value={wish.arrives}
            onChange={(event) => set({ arrives: event.currentTarget.value })}
          />
          <TextInput
            size="xs"
            type="datetime-local"
            label={words.plan.wantedBy}
            value={wish.promise}
            onChange={(event) => set({ promise: event.currentTarget.value })}
          />
        </div>
        <div className={classes.row}>
          <Button size="xs" loading={promise.isPending} onClick={() => promise.mutate(order)}>
            {words.plan.askPromise}
          </Button>
          <Button
            size="xs"
            variant="default"
            disabled={!wish.promise || busy}
            onClick={() => fits.mutate(order)}
          >
            {words.plan.askFits}
          </Button>
          <Button
            size="xs"
            variant="default"
            disabled={!wish.promise || busy}
            onClick={() => rush.mutate(order)}
          >
            {words.plan.askRush}
          </Button>
        </div>
        <div aria-live="polite" className={classes.answers}>
          {promise.data && (
            <Note
              tone="plain"
              lines={
                promise.data.promise
                  ? [
                      words.plan.canPromise(format.moment(promise.data.promise)),
                      words.plan.planned(format.moment(promise.data.planned_end ?? "")),
                    ]
                  : [words.plan.noPromise]
              }
            />
          )}
          {fits.data && (
            <Note
              tone={fits.data.fits === "yes" ? "plain" : "caution"}
              lines={[words.plan.fits[fits.data.fits], fits.data.reason]}
            />
          )}
          {rush.data && (
            <>
              <Note
                tone={
                  rush.data.fits === "yes" && rush.data.slips.length === 0 ? "plain" : "caution"
                }
                lines={[
                  rush.data.fits === "yes" ? words.plan.rushYes : words.plan.fits[rush.data.fits],
                  rush.data.reason,
                  ...(rush.data.fits === "yes" && rush.data.slips.length === 0
                    ? [words.plan.nothingSlips]
                    : []),
                ]}
              />
              <Slips slips={rush.data.slips} />
              {rush.data.remedies.length > 0 && (
                <section>
                  <h3>{words.plan.remedies}</h3>
                  <ul className={classes.remedies}>
                    {rush.data.remedies.slice(0, 5).map((remedy) => (
                      <li key={remedy.what}>
                        {remedy.what}
                        <small>{words.plan.leaves(remedy.left.length)}</small>
                      </li>
                    ))}
                  </ul>
                </section>
              )}
            </>
          )}
          {fault && <Trouble error={fault} />}
        </div>
        <div className={classes.row}>
          <Button
            size="xs"
            loading={change.book.isPending}
            disabled={!wish.job && !wish.title}
            onClick={() => change.book.mutate(order, { onSuccess: close })}
          >
            {words.plan.book}
          </Button>
          {promise.data?.promise && (
            <Button
              size="xs"
              variant="default"
              onClick={() => set({ promise: promise.data?.promise ?? "" })}
            >
              {words.plan.takeTime}
            </Button>
          )}
        </div>
      </div>
    </Dialog>
  );
}
