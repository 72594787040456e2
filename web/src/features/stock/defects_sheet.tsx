import { ActionIcon, Button, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Roll } from "@/api/client";
import { type RollDefect, useMarkDefects } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { LengthInput } from "@/parts/length_input";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import { type Draft, newDefect, wholeDefects } from "./defects";
import classes from "./stock.module.css";

/** Places on a roll that no piece may cover, told from the core. */
export function DefectsSheet({ roll, onClose }: { roll: Roll; onClose: () => void }) {
  const { words } = useReader();
  const page = words.stockPage;
  const mark = useMarkDefects(roll.id);
  const [drafts, setDrafts] = useState<readonly Draft[]>(roll.defects ?? []);
  const whole = wholeDefects(drafts, roll);
  const change = (at: number, part: Partial<Draft>) =>
    setDrafts(drafts.map((draft, index) => (index === at ? { ...draft, ...part } : draft)));
  return (
    <Dialog title={`${page.defectsOf}: ${roll.id}`} onClose={onClose} size="lg">
      <EntryForm
        submit={page.save}
        onSubmit={() => whole && mark.mutate(whole, { onSuccess: onClose })}
        busy={mark.isPending}
        error={mark.error}
        disabled={!whole}
      >
        <p className={classes.soft}>{page.defectsText}</p>
        <RollPicture roll={roll} defects={whole ?? []} />
        {drafts.map((draft, at) => (
          <div key={at} className={classes.defect} role="group" aria-label={page.defect(at + 1)}>
            <LengthInput
              label={page.fromCore}
              value={draft.from_core_mm}
              onChange={(from_core_mm) => change(at, { from_core_mm })}
              most={roll.length_mm}
              required
            />
            <LengthInput
              label={page.length}
              value={draft.length_mm}
              onChange={(length_mm) => change(at, { length_mm })}
              required
            />
            <LengthInput
              label={page.low}
              value={draft.low_mm}
              onChange={(low_mm) => change(at, { low_mm })}
              most={roll.width_mm}
              required
            />
            <LengthInput
              label={page.high}
              value={draft.high_mm}
              onChange={(high_mm) => change(at, { high_mm })}
              most={roll.width_mm}
              required
            />
            <TextInput
              label={page.whatItIs}
              value={draft.note ?? ""}
              maxLength={200}
              onChange={(event) => change(at, { note: event.currentTarget.value })}
            />
            <ActionIcon
              variant="subtle"
              size={36}
              aria-label={`${page.dropDefect} ${at + 1}`}
              onClick={() => setDrafts(drafts.filter((_, index) => index !== at))}
            >
              <Icon name="close" />
            </ActionIcon>
          </div>
        ))}
        <div>
          <Button
            variant="default"
            size="compact-sm"
            onClick={() => setDrafts([...drafts, newDefect(roll)])}
          >
            {page.addDefect}
          </Button>
        </div>
      </EntryForm>
    </Dialog>
  );
}

/** What remains of the roll, its core on the left, with the defects in it. */
function RollPicture({ roll, defects }: { roll: Roll; defects: readonly RollDefect[] }) {
  const { words } = useReader();
  const length = Math.max(roll.remaining_mm, 1);
  return (
    <svg
      role="img"
      aria-label={`${roll.id}: ${words.stockPage.defects(defects.length)}`}
      className={classes.rollPicture}
      viewBox={`0 0 ${length} ${roll.width_mm}`}
      preserveAspectRatio="none"
    >
      <rect className={classes.rollFilm} width={length} height={roll.width_mm} />
      {defects.map(({ from_core_mm, length_mm, low_mm, high_mm }, index) => (
        <rect
          key={index}
          className={classes.rollDefect}
          x={from_core_mm}
          y={roll.width_mm - high_mm}
          width={Math.max(length_mm, length / 200)}
          height={high_mm - low_mm}
        />
      ))}
    </svg>
  );
}
