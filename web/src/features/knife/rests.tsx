import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import { type Rest, useKeepOffcut, useRests, useStock } from "@/api/stock_queries";
import { OutlinePicture } from "@/parts/outline_picture";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import { shelvedAs } from "./shelved";
import classes from "./knife.module.css";

const outlineOf = ({ length_mm, width_mm }: Rest): [number, number][] => [
  [0, 0],
  [length_mm, 0],
  [length_mm, width_mm],
  [0, width_mm],
];

/** What a finished run left that is worth the shelf; each is put there by hand. */
export function Rests({ run }: { run: string }) {
  const { words, format } = useReader();
  const page = words.runPanel;
  const rests = useRests(run);
  const stock = useStock();
  const keep = useKeepOffcut();
  const [place, setPlace] = useState("");
  const fault = rests.error ?? stock.error;
  if (fault) return <Trouble error={fault} again={() => void rests.refetch()} />;
  if (!rests.data || rests.data.length === 0 || !stock.data) return null;
  const kept = shelvedAs(rests.data, stock.data.offcuts, run);
  const across = Math.max(...rests.data.map(({ length_mm }) => length_mm));
  return (
    <section className={classes.rests} aria-label={page.rests}>
      <h3>{page.rests}</h3>
      <TextInput
        label={words.stockPage.place}
        value={place}
        maxLength={60}
        onChange={(event) => setPlace(event.currentTarget.value)}
      />
      <ul>
        {rests.data.map((rest, index) => (
          <li key={index}>
            <OutlinePicture
              label={format.size(rest.length_mm, rest.width_mm)}
              outline={{ outer: outlineOf(rest), holes: [] }}
              across={across}
            />
            <span>{format.size(rest.length_mm, rest.width_mm)}</span>
            {kept[index] ? (
              <span role="status">{page.shelved(kept[index])}</span>
            ) : (
              <Button
                variant="default"
                size="compact-sm"
                aria-label={`${page.shelve}: ${format.size(rest.length_mm, rest.width_mm)}`}
                loading={keep.isPending}
                onClick={() =>
                  keep.mutate({
                    film: rest.film,
                    lot: rest.lot,
                    outline: outlineOf(rest),
                    from: rest.roll,
                    run: rest.run,
                    place: place.trim(),
                  })
                }
              >
                {page.shelve}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {keep.error && <Trouble error={keep.error} again={() => keep.reset()} />}
    </section>
  );
}
