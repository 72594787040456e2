import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import { Link } from "wouter";
import type { Quote } from "@/api/client";
import { useMoveQuote, useQuote } from "@/api/offers";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { Figures } from "./figures";
import classes from "./offer.module.css";

/** One quote: its alternatives side by side, and what can be done with it now. */
export default function QuotePage({ quote: id }: { quote: string }) {
  const quote = useQuote(id);
  return (
    <div className={classes.quote}>
      {quote.error && <Trouble error={quote.error} again={() => void quote.refetch()} />}
      {quote.data && <Told quote={quote.data} />}
    </div>
  );
}

function Told({ quote }: { quote: Quote }) {
  const { words } = useReader();
  const page = words.offerPage;
  const move = useMoveQuote(quote);
  const [by, setBy] = useState(quote.customer);
  const isAccepted = quote.state === "accepted";
  return (
    <>
      <header className={classes.quoteHead}>
        <div>
          <h1>{quote.title}</h1>
          <p>
            {[
              quote.id,
              `${page.version} ${quote.version}`,
              page.states[quote.state],
              quote.customer,
              quote.valid_until && `${page.validUntil} ${quote.valid_until}`,
            ]
              .filter(Boolean)
              .join(" · ")}
          </p>
        </div>
        <div className={classes.moves}>
          {quote.state === "draft" && (
            <Button loading={move.isPending} onClick={() => move.mutate({ to: "send" })}>
              {page.send}
            </Button>
          )}
          {quote.state === "sent" && (
            <>
              <TextInput
                label={page.by}
                value={by}
                onChange={({ currentTarget }) => setBy(currentTarget.value)}
              />
              <Button
                variant="default"
                disabled={by === ""}
                onClick={() => move.mutate({ to: "decline", by })}
              >
                {page.decline}
              </Button>
            </>
          )}
          {["sent", "declined", "expired"].includes(quote.state) && (
            <Button variant="default" onClick={() => move.mutate({ to: "renew" })}>
              {page.renew}
            </Button>
          )}
          {quote.job && (
            <Link className={classes.next} href={`/jobs/${encodeURIComponent(quote.job)}/body`}>
              {page.openJob}
            </Link>
          )}
          <a
            href={`/api/v1/quotes/${encodeURIComponent(quote.id)}/paper.pdf?version=${quote.version}`}
            target="_blank"
            rel="noreferrer"
          >
            {page.paper} (PDF)
          </a>
          <Link href="/offer">{page.newQuote}</Link>
        </div>
      </header>
      {move.error && <Trouble error={move.error} />}
      {isAccepted && <Note tone="plain" lines={[page.acceptedBy(quote.decided_by)]} />}
      {quote.note && <p>{quote.note}</p>}
      <div className={classes.columns}>
        {quote.offers.map((offer, index) => (
          <Sheet
            key={`${index} ${offer.name}`}
            title={offer.name}
            actions={<span>{page.panels(offer.scope.length)}</span>}
            className={isAccepted && index !== quote.chosen ? classes.passed : undefined}
          >
            <Figures work={offer.work} price={offer.price} currency={quote.currency} />
            {quote.state === "sent" && (
              <Button
                fullWidth
                disabled={by === ""}
                loading={move.isPending}
                aria-label={`${page.accept}: ${offer.name}`}
                onClick={() => move.mutate({ to: "accept", by, alternative: index })}
              >
                {page.accept}
              </Button>
            )}
            {isAccepted && index === quote.chosen && <p className={classes.taken}>{page.taken}</p>}
          </Sheet>
        ))}
      </div>
    </>
  );
}
