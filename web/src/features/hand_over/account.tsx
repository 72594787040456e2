import { Button } from "@mantine/core";
import { useState } from "react";
import type { Job } from "@/api/client";
import { useAccount } from "@/api/installation_queries";
import { useQuote, useQuotes } from "@/api/offers";
import { useShop } from "@/api/queries";
import { useIsOne } from "@/api/session";
import { PaperLinks } from "@/parts/paper_links";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { InvoiceForm } from "./invoice_form";
import { PaymentForm } from "./payment_form";
import classes from "./hand_over.module.css";

/** What the job was billed, what was paid, and what is open. */
export function Account({ job }: { job: Job }) {
  const { words, format } = useReader();
  const page = words.handOver;
  const account = useAccount(job.id);
  const currency = useShop().data?.currency;
  const mayBill = useIsOne("lead", "desk");
  if (account.error)
    return (
      <Sheet title={page.account}>
        <Trouble error={account.error} again={() => void account.refetch()} />
      </Sheet>
    );
  if (!account.data || currency === undefined) return null;
  const { invoices, payments, billed, paid } = account.data;
  const money = (minor: number) => format.money(minor, currency);
  return (
    <Sheet title={page.account}>
      <div className={classes.figures}>
        <Figure size="small" label={page.billed} value={money(billed)} />
        <Figure size="small" label={page.paid} value={money(paid)} />
        <Figure
          size="small"
          label={page.due}
          value={money(billed - paid)}
          tone={billed > paid ? "caution" : "normal"}
        />
      </div>
      <ul className={classes.lines} aria-label={page.account}>
        {invoices.map(({ id, total, issued, due }) => (
          <li key={id}>
            <span>
              {page.invoice} {id}, {format.day(issued)}
              <small>
                {page.payBy} {format.day(`${due}T12:00:00Z`)}
              </small>
            </span>
            <b>{money(total)}</b>
          </li>
        ))}
        {payments.map(({ kind, amount, way, at, note }, index) => (
          <li key={index}>
            <span>
              {page.kinds[kind]}, {format.day(at)}
              <small>{[way, note].filter(Boolean).join(" · ")}</small>
            </span>
            <b>{money(kind === "refund" ? amount : -amount)}</b>
          </li>
        ))}
      </ul>
      {mayBill && (
        <Billing
          job={job}
          currency={currency}
          toPay={billed - paid}
          isBilled={invoices.length > 0}
        />
      )}
      <PaperLinks job={job.id} only={["invoice"]} />
    </Sheet>
  );
}

interface BillingProps {
  job: Job;
  currency: string;
  /** Billed and not paid. */
  toPay: number;
  isBilled: boolean;
}

/** What was agreed, and the forms that begin from it. */
function Billing({ job, currency, toPay, isBilled }: BillingProps) {
  const { words, format } = useReader();
  const page = words.handOver;
  const [open, setOpen] = useState<"invoice" | "payment">();
  const close = () => setOpen(undefined);
  const quotes = useQuotes();
  const quote = useQuote(quotes.data?.find(({ job: of }) => of === job.id)?.id ?? "");
  const price = quote.data?.offers[quote.data.chosen]?.price;
  const fault = quotes.error ?? quote.error;
  return (
    <>
      {fault && <Trouble error={fault} again={() => void quotes.refetch()} />}
      {price && (
        <p className={classes.soft}>
          {page.agreed(format.money(price.total, currency), format.money(price.deposit, currency))}
        </p>
      )}
      <div className={classes.buttons}>
        <Button variant={isBilled ? "default" : "filled"} onClick={() => setOpen("invoice")}>
          {page.newInvoice}
        </Button>
        <Button variant="default" onClick={() => setOpen("payment")}>
          {page.newPayment}
        </Button>
      </div>
      {open === "invoice" && (
        <InvoiceForm job={job} currency={currency} price={price} onClose={close} />
      )}
      {open === "payment" && (
        <PaymentForm
          job={job.id}
          currency={currency}
          deposit={isBilled ? undefined : price?.deposit}
          toPay={toPay}
          onClose={close}
        />
      )}
    </>
  );
}
