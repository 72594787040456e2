import { Button, Checkbox, NumberInput, Select, Textarea, TextInput } from "@mantine/core";
import { useEffect, useState } from "react";
import { Link, useLocation } from "wouter";
import type { QuoteDraft, ScopeItem } from "@/api/client";
import { useDraftQuote, usePrice, usePriceList, useProposals, useQuotes } from "@/api/offers";
import { useFilms, useVehicle, useVehicles } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { Figures } from "./figures";
import { ScopeList } from "./scope_list";
import classes from "./offer.module.css";

interface Beside {
  offer: QuoteDraft["offers"][number];
  total: string;
}

/** A quote in the making: what to cover with what, the price at every click, alternatives. */
export default function OfferPage() {
  const { words } = useReader();
  const vehicles = useVehicles();
  const [chosen, setChosen] = useState("");
  const vehicle = chosen || (vehicles.data?.[0]?.id ?? "");
  return (
    <div className={classes.page}>
      <div className={classes.side}>
        <h1>{words.offerPage.title}</h1>
        <Select
          label={words.offerPage.vehicle}
          allowDeselect={false}
          value={vehicle || null}
          onChange={(value) => value !== null && setChosen(value)}
          data={(vehicles.data ?? []).map(({ id, name }) => ({ value: id, label: name }))}
        />
        <QuoteList />
      </div>
      {vehicles.error && <Trouble error={vehicles.error} />}
      {vehicle !== "" && <Making key={vehicle} vehicle={vehicle} />}
    </div>
  );
}

function Making({ vehicle }: { vehicle: string }) {
  const { words, format, language } = useReader();
  const page = words.offerPage;
  const [, go] = useLocation();
  const model = useVehicle(vehicle);
  const films = useFilms();
  const list = usePriceList();
  const [package_, setPackage] = useState("full_front");
  const [look, setLook] = useState("as_it_is");
  const [own, setOwn] = useState<ScopeItem[]>();
  const [coating, setCoating] = useState(false);
  const [percent, setPercent] = useState(0);
  const [beside, setBeside] = useState<Beside[]>([]);
  const [text, setText] = useState({ name: "", title: "", customer: "", note: "" });
  const looks = list.data?.looks ?? [];
  const usedLook = looks.some(({ id }) => id === look) ? look : (looks[0]?.id ?? "");
  const all = useProposals(vehicle, usedLook);
  const packaged = useProposals(vehicle, usedLook, package_ || undefined);
  const proposed = (package_ ? packaged.data : undefined)?.flatMap(({ panel, film }) =>
    film ? [{ panel, film }] : [],
  );
  const scope = own ?? proposed ?? [];
  const discount = Math.round(percent * 10_000);
  const price = usePrice({ vehicle, scope, coating, discount });
  const draft = useDraftQuote();
  useEffect(() => {
    if (draft.data) go(`/quotes/${encodeURIComponent(draft.data.id)}`);
  }, [draft.data, go]);

  const packageName = list.data?.packages.find(({ id }) => id === package_)?.name;
  const lookName = looks.find(({ id }) => id === usedLook)?.name;
  const name = text.name || [packageName ?? page.free, lookName].filter(Boolean).join(", ");
  const present = { name, package: package_, look: usedLook, scope, coating, discount };
  const keep = () => {
    const offers = beside.map(({ offer }) => offer);
    const isThere = offers.some(
      (one) =>
        JSON.stringify(one.scope) === JSON.stringify(scope) &&
        one.coating === coating &&
        one.discount === discount,
    );
    draft.mutate({
      title: text.title || name,
      customer: text.customer,
      note: text.note,
      vehicle,
      language,
      offers: isThere ? offers : [...offers, present],
    });
  };
  const fault = model.error ?? films.error ?? list.error ?? price.error ?? draft.error;
  return (
    <>
      <Sheet
        title={page.surfaces}
        actions={<span>{page.chosen(scope.length)}</span>}
        className={classes.surfaces}
      >
        <div className={classes.choices}>
          <Select
            label={page.package}
            allowDeselect={false}
            value={package_}
            onChange={(value) => {
              setPackage(value ?? "");
              setOwn(value ? undefined : scope);
            }}
            data={[
              ...(list.data?.packages ?? []).map(({ id, name: label }) => ({ value: id, label })),
              { value: "", label: page.free },
            ]}
          />
          <Select
            label={page.look}
            allowDeselect={false}
            value={usedLook || null}
            onChange={(value) => {
              setLook(value ?? "");
              setOwn(undefined);
            }}
            data={looks.map(({ id, name: label }) => ({ value: id, label }))}
          />
          <NumberInput
            label={page.discount}
            value={percent}
            onChange={(value) => typeof value === "number" && setPercent(value)}
            min={0}
            max={100}
            decimalScale={2}
            clampBehavior="strict"
            suffix=" %"
          />
          <Checkbox
            label={page.coating}
            checked={coating}
            onChange={({ currentTarget }) => setCoating(currentTarget.checked)}
          />
        </div>
        <ScopeList
          panels={model.data?.panels ?? []}
          films={films.data ?? []}
          proposals={all.data ?? []}
          scope={scope}
          onScope={setOwn}
        />
      </Sheet>
      <div className={classes.answer}>
        {fault && <Trouble error={fault} />}
        <Sheet title={name}>
          {scope.length === 0 || !price.data ? (
            <p>{page.nothing}</p>
          ) : (
            <div aria-live="polite" aria-busy={price.isPlaceholderData}>
              <Figures {...price.data} />
              {price.data.waiting.length > 0 && (
                <Note tone="plain" lines={[page.waiting(price.data.waiting.length)]} />
              )}
              {price.data.concerns.length > 0 && (
                <Note tone="caution" lines={[page.mustSign(price.data.concerns.length)]} />
              )}
            </div>
          )}
          <div className={classes.row}>
            <TextInput
              label={page.alternativeName}
              placeholder={name}
              value={text.name}
              onChange={({ currentTarget }) => setText({ ...text, name: currentTarget.value })}
            />
            <Button
              variant="default"
              disabled={scope.length === 0 || !price.data || beside.length >= 5}
              onClick={() => {
                if (!price.data) return;
                const total = format.money(price.data.price.total, price.data.currency);
                setBeside([...beside, { offer: present, total }]);
                setText({ ...text, name: "" });
              }}
            >
              {page.addAlternative}
            </Button>
          </div>
        </Sheet>
        {beside.length > 0 && (
          <Sheet title={page.sideBySide}>
            <ul className={classes.beside}>
              {beside.map(({ offer, total }, index) => (
                <li key={`${index} ${offer.name}`}>
                  <span>
                    {offer.name}
                    <small>{page.panels(offer.scope.length)}</small>
                  </span>
                  <strong>{total}</strong>
                  <Button
                    size="compact-xs"
                    variant="subtle"
                    aria-label={`${page.remove}: ${offer.name}`}
                    onClick={() => setBeside(beside.filter((_, at) => at !== index))}
                  >
                    {page.remove}
                  </Button>
                </li>
              ))}
            </ul>
          </Sheet>
        )}
        <Sheet>
          <TextInput
            label={page.quoteTitle}
            placeholder={name}
            value={text.title}
            onChange={({ currentTarget }) => setText({ ...text, title: currentTarget.value })}
          />
          <TextInput
            label={page.customer}
            value={text.customer}
            onChange={({ currentTarget }) => setText({ ...text, customer: currentTarget.value })}
          />
          <Textarea
            label={page.note}
            autosize
            minRows={2}
            value={text.note}
            onChange={({ currentTarget }) =>
              setText({ ...text, note: currentTarget.value.replace(/\n/g, " ") })
            }
          />
          <Button
            fullWidth
            mt="md"
            loading={draft.isPending}
            disabled={scope.length === 0 && beside.length === 0}
            onClick={keep}
          >
            {page.keep}
          </Button>
        </Sheet>
      </div>
    </>
  );
}

function QuoteList() {
  const { words } = useReader();
  const page = words.offerPage;
  const quotes = useQuotes();
  return (
    <section aria-label={page.quotes} className={classes.quotes}>
      <h2>{page.quotes}</h2>
      {quotes.data?.length === 0 && (
        <p>
          {page.noQuotes}. {page.noQuotesText}
        </p>
      )}
      <ul>
        {quotes.data?.map((quote) => (
          <li key={quote.id}>
            <Link href={`/quotes/${encodeURIComponent(quote.id)}`}>{quote.title}</Link>
            <small>
              {[quote.id, quote.customer, page.states[quote.state]].filter(Boolean).join(" · ")}
            </small>
          </li>
        ))}
      </ul>
    </section>
  );
}
