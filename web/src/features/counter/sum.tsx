import { Button, CopyButton, TextInput } from "@mantine/core";
import { useDebouncedValue } from "@mantine/hooks";
import { useMemo, useState } from "react";
import { Link, useLocation } from "wouter";
import type { Film, Panel, ScopeItem } from "@/api/client";
import { quotePaperAddress, usePrice, useSendQuote, useShareLink } from "@/api/offers";
import { useOpenJob } from "@/api/queries";
import { Cautions } from "@/parts/cautions";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import type { Choice } from "./choice";
import classes from "./counter.module.css";

interface SumProps {
  vehicle: string;
  panels: readonly Panel[];
  films: readonly Film[];
  choice: Choice;
  onChoice: (choice: Choice) => void;
}

interface Beside {
  name: string;
  choice: Choice;
}

const mostBeside = 5; // a quote holds six alternatives
const settle = 120; // ms without a click before the price is asked for

const scopeOf = (choice: Choice): ScopeItem[] =>
  [...choice].map(([panel, film]) => ({ panel, film }));

const usePriceOf = (vehicle: string, choice: Choice) => {
  const scope = useMemo(() => scopeOf(choice), [choice]);
  const [settled] = useDebouncedValue(scope, settle);
  const price = usePrice({ vehicle, scope: settled, coating: false, discount: 0 });
  return { ...price, stale: price.isPlaceholderData || settled !== scope };
};

/** What the choice takes and costs, alternatives beside it, and how it goes to the customer. */
export function Sum({ vehicle, panels, films, choice, onChoice }: SumProps) {
  const { words, format } = useReader();
  const covered = panels.filter((panel) => choice.has(panel.id));
  const price = usePriceOf(vehicle, choice);
  const offer = choice.size > 0 ? price.data : undefined;
  const [beside, setBeside] = useState<readonly Beside[]>([]);
  const nameOf = (id: string) => films.find((film) => film.id === id)?.name ?? id;
  const called = nameFor(choice, nameOf);
  return (
    <aside className={classes.sum} aria-label={words.counter.sum}>
      <div className={classes.told}>
        {price.error && <Trouble error={price.error} again={() => void price.refetch()} />}
        <div aria-live="polite" aria-busy={price.stale} className={classes.answer}>
          <Figure
            size="large"
            label={words.counter.price}
            value={offer ? format.money(offer.price.total, offer.currency) : "–"}
          />
          <div className={classes.figures}>
            <Figure size="small" label={words.counter.covered} value={covered.length} />
            <Figure
              size="small"
              label={words.counter.area}
              value={format.area(covered.reduce((sum, panel) => sum + panel.area_mm2, 0))}
            />
            <Figure
              size="small"
              label={words.counter.hours}
              value={offer ? format.work(offer.work.minutes.expected) : "–"}
            />
            <Figure
              size="small"
              label={words.counter.earliest}
              value={offer?.promise.by ? format.wallDay(offer.promise.by) : "–"}
            />
          </div>
          {offer && (
            <p className={classes.small}>
              {words.counter.range(
                format.work(offer.work.minutes.low),
                format.work(offer.work.minutes.high),
              )}{" "}
              {offer.promise.by
                ? words.counter.kept(
                    format.moment(offer.promise.by),
                    format.percent(offer.promise.chance, 0),
                  )
                : sentence(offer.promise.reason)}
            </p>
          )}
          <ul className={classes.needs}>
            {offer?.work.films.map((film) => (
              <li key={film.film}>
                <span>{film.name}</span>
                <b>{format.rollLength(film.length)}</b>
                <span>{words.benchPage.panels(film.pieces)}</span>
                <span data-short={film.length > film.in_stock}>
                  {format.rollLength(film.in_stock)} {words.counter.inStock}
                </span>
              </li>
            ))}
          </ul>
          {offer && offer.waiting.length > 0 && (
            <p className={classes.small}>{words.counter.waiting(offer.waiting.length)}</p>
          )}
        </div>
        <Cautions names={cautionsFor(covered)} />
        <Button
          variant="default"
          size="xs"
          disabled={choice.size === 0 || beside.length >= mostBeside}
          onClick={() => setBeside([...beside, { name: called, choice }])}
        >
          {words.counter.setBeside}
        </Button>
        {beside.length > 0 && (
          <ul className={classes.beside} aria-label={words.counter.alternatives}>
            {beside.map((one, index) => (
              <Alternative
                key={`${index} ${one.name}`}
                vehicle={vehicle}
                one={one}
                now={one.choice === choice}
                onTake={() => onChoice(one.choice)}
                onDrop={() => setBeside(beside.filter((_, at) => at !== index))}
              />
            ))}
          </ul>
        )}
      </div>
      <Send vehicle={vehicle} called={called} choice={choice} beside={beside} />
    </aside>
  );
}

interface AlternativeProps {
  vehicle: string;
  one: Beside;
  now: boolean;
  onTake: () => void;
  onDrop: () => void;
}

/** A choice kept beside, with its own price, film and hours. */
function Alternative({ vehicle, one, now, onTake, onDrop }: AlternativeProps) {
  const { words, format } = useReader();
  const { data } = usePriceOf(vehicle, one.choice);
  return (
    <li data-now={now}>
      <button type="button" onClick={onTake} aria-pressed={now}>
        <span>{one.name}</span>
        <b>{data ? format.money(data.price.total, data.currency) : "…"}</b>
        <small>
          {data &&
            [
              words.benchPage.panels(one.choice.size),
              format.rollLength(data.work.films.reduce((sum, { length }) => sum + length, 0)),
              format.work(data.work.minutes.expected),
              ...(data.promise.by ? [format.wallDay(data.promise.by)] : []),
            ].join(" · ")}
        </small>
      </button>
      <Button
        size="compact-xs"
        variant="subtle"
        aria-label={`${words.counter.drop}: ${one.name}`}
        onClick={onDrop}
      >
        {words.counter.drop}
      </Button>
    </li>
  );
}

interface SendProps {
  vehicle: string;
  called: string;
  choice: Choice;
  beside: readonly Beside[];
}

/** The choice goes on: as a quote with its paper, as a job, or as a link for the customer. */
function Send({ vehicle, called, choice, beside }: SendProps) {
  const { words, language } = useReader();
  const [, go] = useLocation();
  const [name, setName] = useState("");
  const [customer, setCustomer] = useState("");
  const quote = useSendQuote();
  const opening = useOpenJob();
  const share = useShareLink();
  const empty = choice.size === 0;
  const title = name.trim() || called;
  const offers = [
    ...beside.map((one) => ({ name: one.name, scope: scopeOf(one.choice) })),
    ...(empty || beside.some((one) => one.choice === choice)
      ? []
      : [{ name: called, scope: scopeOf(choice) }]),
  ];
  const job = { title, customer: customer.trim(), vehicle, scope: scopeOf(choice) };
  const open = (then: (id: string) => void) =>
    opening.mutate(job, { onSuccess: ({ id }) => then(id) });
  const fault = quote.error ?? opening.error ?? share.error;
  return (
    <form
      className={classes.open}
      onSubmit={(event) => {
        event.preventDefault();
        open((id) => go(`/jobs/${encodeURIComponent(id)}/body`));
      }}
    >
      <TextInput
        label={words.counter.jobName}
        placeholder={called}
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <TextInput
        label={words.counter.customer}
        value={customer}
        onChange={(event) => setCustomer(event.currentTarget.value)}
      />
      {fault && <Trouble error={fault} />}
      <Button
        type="button"
        disabled={offers.length === 0}
        loading={quote.isPending}
        onClick={() =>
          quote.mutate({ title, customer: customer.trim(), vehicle, language, offers })
        }
      >
        {words.counter.sendQuote}
      </Button>
      {quote.data && (
        <p className={classes.sent} role="status">
          {words.counter.quoteSent(quote.data.id)}{" "}
          <a href={quotePaperAddress(quote.data.id)} target="_blank" rel="noreferrer">
            {words.counter.quotePaper}
          </a>{" "}
          <Link href={`/quotes/${encodeURIComponent(quote.data.id)}`}>{words.counter.toQuote}</Link>
        </p>
      )}
      <div className={classes.row}>
        <Button
          type="submit"
          size="xs"
          variant="default"
          disabled={empty}
          loading={opening.isPending}
        >
          {words.counter.open}
        </Button>
        <Button
          type="button"
          size="xs"
          variant="default"
          disabled={empty}
          loading={share.isPending}
          onClick={() => open((id) => share.mutate(id))}
        >
          {words.counter.share}
        </Button>
      </div>
      {share.data?.path !== undefined && <Shared address={location.origin + share.data.path} />}
      {!empty && opening.data && share.data && (
        <Note tone="plain" lines={[words.counter.jobOpened(opening.data.id)]} />
      )}
    </form>
  );
}

function Shared({ address }: { address: string }) {
  const { words } = useReader();
  return (
    <div className={classes.shared} role="status">
      <TextInput
        label={words.counter.shareLink}
        readOnly
        value={address}
        onFocus={(event) => event.currentTarget.select()}
      />
      <CopyButton value={address}>
        {({ copied, copy }) => (
          <Button type="button" size="xs" variant="default" onClick={copy}>
            {copied ? words.counter.copied : words.counter.copy}
          </Button>
        )}
      </CopyButton>
    </div>
  );
}

/** What a choice is called until somebody names it: the films in it, the most used first. */
function nameFor(choice: Choice, nameOf: (film: string) => string) {
  const count = new Map<string, number>();
  for (const film of choice.values()) count.set(film, (count.get(film) ?? 0) + 1);
  return [...count]
    .sort((a, b) => b[1] - a[1])
    .map(([film, panels]) => `${nameOf(film)} × ${panels}`)
    .join(", ");
}

/** What the customer should hear before choosing: each caution once. */
function cautionsFor(panels: readonly Panel[]) {
  const finishes = new Set(panels.map(({ finish }) => finish));
  return [
    ...(["lamp", "reflector", "glass"] as const).filter((finish) => finishes.has(finish)),
    ...(panels.some(({ sensor }) => sensor) ? (["sensor"] as const) : []),
  ];
}
