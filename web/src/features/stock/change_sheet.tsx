import { TextInput } from "@mantine/core";
import { useState } from "react";
import type { Roll } from "@/api/client";
import { useChangeStock, type StockChange } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { LengthInput } from "@/parts/length_input";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

interface ChangeSheetProps {
  /** A roll, or an offcut as the short roll that its box is. */
  roll: Pick<Roll, "id" | "length_mm" | "remaining_mm">;
  verb: StockChange["verb"];
  /** What stands in the field at first; default: when counted, what the book says. */
  first?: number;
  onClose: () => void;
}

/** A roll counted, film written off or given back. */
export function ChangeSheet({ roll, verb, first, onClose }: ChangeSheetProps) {
  const { words, format } = useReader();
  const change = useChangeStock(roll.id);
  const [length, setLength] = useState<number | undefined>(
    first ?? (verb === "counted" ? roll.remaining_mm : undefined),
  );
  const [why, setWhy] = useState("");
  const titles = {
    counted: words.stockPage.count,
    written_off: words.stockPage.writeOff,
    returned: words.stockPage.giveBack,
  };
  const labels = {
    counted: words.stockPage.counted,
    written_off: words.stockPage.lost,
    returned: words.stockPage.back,
  };
  const most = {
    counted: roll.length_mm,
    written_off: roll.remaining_mm,
    returned: roll.length_mm - roll.remaining_mm,
  };
  return (
    <Dialog title={`${titles[verb]}: ${roll.id}`} onClose={onClose}>
      <EntryForm
        submit={words.stockPage.save}
        onSubmit={() =>
          length !== undefined &&
          change.mutate({ verb, length_mm: length, why: why.trim() }, { onSuccess: onClose })
        }
        busy={change.isPending}
        error={change.error}
      >
        <p className={classes.soft}>
          {format.rollLength(roll.remaining_mm)} {words.stockPage.left}
        </p>
        <LengthInput
          label={labels[verb]}
          value={length}
          onChange={setLength}
          most={most[verb]}
          required
        />
        <TextInput
          label={words.stockPage.why}
          value={why}
          maxLength={200}
          onChange={(event) => setWhy(event.currentTarget.value)}
          required={verb !== "returned"}
        />
      </EntryForm>
    </Dialog>
  );
}
