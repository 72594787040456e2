import { ActionIcon, Button, NumberInput, Textarea, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Job, Price } from "@/api/client";
import { type InvoiceLine, useIssueInvoice } from "@/api/installation_queries";
import { useCustomer, useJobCustomer } from "@/api/job_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { MoneyInput } from "@/parts/money_input";
import { Icon } from "@/ui/icon";
import { typedNumber } from "@/units/typed_number";
import { useReader } from "@/words/preferences";
import { linesOf, sumOf } from "./bill";
import classes from "./hand_over.module.css";

interface InvoiceFormProps {
  job: Job;
  currency: string;
  /** What the customer accepted, if there was a quote. */
  price: Price | undefined;
  onClose: () => void;
}

/** An invoice: begun from the accepted quote and the job's customer, when there are any. */
export function InvoiceForm(props: InvoiceFormProps) {
  const { words } = useReader();
  const link = useJobCustomer(props.job.id);
  const customer = useCustomer(link.data?.customer ?? "");
  const isKnown = link.data && (link.data.customer === "" || customer.data);
  const { name = props.job.customer, address = "" } = customer.data ?? {};
  return (
    <Dialog title={words.handOver.newInvoice} onClose={props.onClose} size="lg">
      {isKnown ? (
        <Lines {...props} billTo={[name, address].filter(Boolean).join("\n")} />
      ) : (
        <p aria-busy="true">{words.waiting}</p>
      )}
    </Dialog>
  );
}

interface Draft {
  text: string;
  net: number | undefined;
  /** Percent. */
  tax: number;
}

const millionthsPerPercent = 10_000;

function Lines({
  job,
  currency,
  price,
  onClose,
  billTo: first,
}: InvoiceFormProps & { billTo: string }) {
  const { words, format } = useReader();
  const page = words.handOver;
  const issue = useIssueInvoice(job.id);
  const [billTo, setBillTo] = useState(first);
  const [note, setNote] = useState("");
  const [due, setDue] = useState("");
  const [lines, setLines] = useState<readonly Draft[]>(() =>
    price
      ? linesOf(price, words.offerPage.kinds).map(({ text, net, tax }) => ({
          text,
          net,
          tax: tax / millionthsPerPercent,
        }))
      : [{ text: job.title, net: undefined, tax: 0 }],
  );
  const change = (at: number, part: Partial<Draft>) =>
    setLines((now) => now.map((line, index) => (index === at ? { ...line, ...part } : line)));
  const whole = lines.flatMap(({ text, net, tax }): InvoiceLine[] =>
    net === undefined || text.trim() === ""
      ? []
      : [{ text: text.trim(), net, tax: Math.round(tax * millionthsPerPercent) }],
  );
  return (
    <EntryForm
      submit={page.issue}
      onSubmit={() =>
        issue.mutate({ bill_to: billTo.trim(), lines: whole, note, due }, { onSuccess: onClose })
      }
      busy={issue.isPending}
      error={issue.error}
      disabled={whole.length === 0 || whole.length < lines.length}
    >
      <Textarea
        label={page.billTo}
        value={billTo}
        maxLength={1000}
        autosize
        minRows={2}
        onChange={(event) => setBillTo(event.currentTarget.value)}
        required
      />
      {lines.map((line, at) => (
        <div key={at} className={classes.line} role="group" aria-label={page.line(at + 1)}>
          <TextInput
            label={page.text}
            value={line.text}
            maxLength={1000}
            onChange={(event) => change(at, { text: event.currentTarget.value })}
            required
          />
          <MoneyInput
            label={page.net}
            currency={currency}
            value={line.net}
            onChange={(net) => change(at, { net })}
            negative
            required
          />
          <NumberInput
            label={page.tax}
            value={line.tax}
            onChange={(tax) => change(at, { tax: typedNumber(tax) ?? 0 })}
            min={0}
            max={100}
            decimalScale={4}
            suffix=" %"
            hideControls
          />
          <ActionIcon
            variant="subtle"
            size={36}
            aria-label={`${page.dropLine} ${at + 1}`}
            disabled={lines.length === 1}
            onClick={() => setLines(lines.filter((_, index) => index !== at))}
          >
            <Icon name="close" />
          </ActionIcon>
        </div>
      ))}
      <div className={classes.progress}>
        <Button
          variant="default"
          size="compact-sm"
          onClick={() =>
            setLines([...lines, { text: "", net: undefined, tax: lines.at(-1)?.tax ?? 0 }])
          }
        >
          {page.addLine}
        </Button>
        <span role="status">{page.netSum(format.money(sumOf(whole), currency))}</span>
      </div>
      <TextInput
        type="date"
        label={page.payBy}
        description={page.payByText}
        value={due}
        onChange={(event) => setDue(event.currentTarget.value)}
      />
      <Textarea
        label={page.note}
        value={note}
        maxLength={2000}
        autosize
        onChange={(event) => setNote(event.currentTarget.value)}
      />
    </EntryForm>
  );
}
