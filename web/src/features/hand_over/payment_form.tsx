import { Autocomplete, Radio, TextInput } from "@mantine/core";
import { useState } from "react";
import { type Payment, useRecordPayment } from "@/api/installation_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { MoneyInput } from "@/parts/money_input";
import { useReader } from "@/words/preferences";
import classes from "./hand_over.module.css";

interface PaymentFormProps {
  job: string;
  currency: string;
  /** Agreed before anything is billed. */
  deposit: number | undefined;
  /** Billed and not paid. */
  toPay: number;
  onClose: () => void;
}

const kinds: readonly Payment["kind"][] = ["deposit", "payment", "refund"];

/** Money that changed hands is taken down; no card is handled here. */
export function PaymentForm({ job, currency, deposit, toPay, onClose }: PaymentFormProps) {
  const { words } = useReader();
  const page = words.handOver;
  const record = useRecordPayment(job);
  const [kind, setKind] = useState<Payment["kind"]>(deposit ? "deposit" : "payment");
  const [amount, setAmount] = useState<number | undefined>(
    deposit ?? (toPay > 0 ? toPay : undefined),
  );
  const [way, setWay] = useState("");
  const [note, setNote] = useState("");
  return (
    <Dialog title={page.newPayment} onClose={onClose}>
      <EntryForm
        submit={page.takeDown}
        onSubmit={() =>
          amount !== undefined &&
          record.mutate({ kind, amount, way: way.trim(), note }, { onSuccess: onClose })
        }
        busy={record.isPending}
        error={record.error}
        disabled={!amount || way.trim().length < 2}
      >
        <Radio.Group
          label={page.kind}
          value={kind}
          onChange={(value) => setKind(kinds.find((one) => one === value) ?? "payment")}
        >
          <div className={classes.answers}>
            {kinds.map((one) => (
              <Radio key={one} value={one} label={page.kinds[one]} />
            ))}
          </div>
        </Radio.Group>
        <MoneyInput
          label={page.amount}
          currency={currency}
          value={amount}
          onChange={setAmount}
          required
        />
        <Autocomplete
          label={page.way}
          description={page.wayText}
          data={page.ways}
          // Escape is the dialog's until somebody asks for the ways.
          openOnFocus={false}
          comboboxProps={{ withinPortal: false }}
          value={way}
          onChange={setWay}
          maxLength={240}
          required
        />
        <TextInput
          label={page.note}
          value={note}
          maxLength={1000}
          onChange={(event) => setNote(event.currentTarget.value)}
        />
      </EntryForm>
    </Dialog>
  );
}
