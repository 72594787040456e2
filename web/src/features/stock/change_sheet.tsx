import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Roll } from "@/api/client";
import { useChangeStock, type StockChange } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { LengthInput } from "@/parts/length_input";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

interface ChangeSheetProps {
  roll: Roll;
  verb: StockChange["verb"];
  onClose: () => void;
}

/** A roll counted, film written off or given back. */
export function ChangeSheet({ roll, verb, onClose }: ChangeSheetProps) {
  const { words, format } = useReader();
  const change = useChangeStock(roll.id);
  const [length, setLength] = useState<number | undefined>(
    verb === "counted" ? roll.remaining_mm : undefined,
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
    <Dialog opened onClose={onClose} title={`${titles[verb]}: ${roll.id}`}>
      <form
        className={classes.form}
        onSubmit={(event) => {
          event.preventDefault();
          if (length === undefined) return;
          change.mutate({ verb, length_mm: length, why: why.trim() }, { onSuccess: onClose });
        }}
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
        {change.error && <Trouble error={change.error} again={() => change.reset()} />}
        <Button type="submit" loading={change.isPending}>
          {words.stockPage.save}
        </Button>
      </form>
    </Dialog>
  );
}
