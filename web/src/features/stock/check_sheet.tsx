import { NumberInput } from "@mantine/core";
import { useState } from "react";
import type { Roll } from "@/api/client";
import { useCheckRoll } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { LengthInput } from "@/parts/length_input";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

// A tape round a roll and a parcel scale (common practice).
const tapeWithin = 1; // mm of diameter
const scaleWithin = 20; // g

/** The book held against a measured diameter or weight. */
export function CheckSheet({ roll, onClose }: { roll: Roll; onClose: () => void }) {
  const { words, format } = useReader();
  const check = useCheckRoll(roll.id);
  const [outer, setOuter] = useState<number>();
  const [gross, setGross] = useState<string | number>("");
  return (
    <Dialog title={`${words.stockPage.check}: ${roll.id}`} onClose={onClose}>
      <EntryForm
        submit={words.stockPage.hold}
        busy={check.isPending}
        error={check.error}
        onSubmit={() => {
          if (outer !== undefined) check.mutate({ outer_mm: outer, outer_mm_within: tapeWithin });
          else if (typeof gross === "number")
            check.mutate({ gross_g: gross, gross_g_within: scaleWithin });
        }}
      >
        <LengthInput label={words.stockPage.outer} value={outer} onChange={setOuter} />
        <NumberInput
          label={words.stockPage.gross}
          value={gross}
          onChange={setGross}
          min={0}
          suffix=" g"
          hideControls
          disabled={outer !== undefined}
        />
        {check.data && (
          <div role="status">
            <div className={classes.figures}>
              <Figure label={words.stockPage.book} value={format.rollLength(check.data.book_mm)} />
              <Figure
                label={words.stockPage.measured}
                value={`${format.rollLength(check.data.measured_mm)} ± ${format.rollLength(check.data.tolerance_mm)}`}
                tone={check.data.agrees ? "normal" : "caution"}
              />
            </div>
            <Note
              tone={check.data.agrees ? "plain" : "caution"}
              lines={[check.data.agrees ? words.stockPage.agrees : words.stockPage.disagrees]}
            />
          </div>
        )}
      </EntryForm>
    </Dialog>
  );
}
