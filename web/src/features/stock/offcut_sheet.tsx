import { Button, Select, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Film } from "@/api/client";
import { useKeepOffcut } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { LengthInput } from "@/parts/length_input";
import { OutlinePicture } from "@/parts/outline_picture";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

interface OffcutSheetProps {
  opened: boolean;
  films: readonly Film[];
  onClose: () => void;
}

export function OffcutSheet({ opened, films, onClose }: OffcutSheetProps) {
  const { words } = useReader();
  return (
    <Dialog opened={opened} onClose={onClose} title={words.stockPage.keepOffcut}>
      <OffcutForm films={films} onDone={onClose} />
    </Dialog>
  );
}

/** A rectangle, less a corner. */
function outlineOf(length: number, width: number, corner: number): [number, number][] {
  if (!(corner > 0))
    return [
      [0, 0],
      [length, 0],
      [length, width],
      [0, width],
    ];
  return [
    [0, 0],
    [length, 0],
    [length, width - corner],
    [length - corner, width],
    [0, width],
  ];
}

function OffcutForm({ films, onDone }: { films: readonly Film[]; onDone: () => void }) {
  const { words } = useReader();
  const keep = useKeepOffcut();
  const [film, setFilm] = useState<string | null>(null);
  const [lot, setLot] = useState("");
  const [length, setLength] = useState<number | undefined>(600);
  const [width, setWidth] = useState<number | undefined>(400);
  const [corner, setCorner] = useState<number | undefined>();
  const [place, setPlace] = useState("");
  const outline =
    length && width && (corner ?? 0) < Math.min(length, width)
      ? outlineOf(length, width, corner ?? 0)
      : undefined;
  return (
    <form
      className={classes.form}
      onSubmit={(event) => {
        event.preventDefault();
        if (film === null || !outline) return;
        keep.mutate({ film, lot: lot.trim(), outline, place: place.trim() }, { onSuccess: onDone });
      }}
    >
      <Select
        label={words.stockPage.film}
        value={film}
        onChange={setFilm}
        data={films.map(({ id, name }) => ({ value: id, label: name }))}
        required
      />
      <TextInput
        label={words.stockPage.lot}
        value={lot}
        maxLength={60}
        onChange={(event) => setLot(event.currentTarget.value)}
        required
      />
      <LengthInput
        label={words.stockPage.alongGrain}
        value={length}
        onChange={setLength}
        required
      />
      <LengthInput label={words.stockPage.width} value={width} onChange={setWidth} required />
      <LengthInput label={words.stockPage.corner} value={corner} onChange={setCorner} />
      {outline && (
        <OutlinePicture
          label={words.recut.offcut}
          outline={{ outer: outline, holes: [] }}
          across={Math.max(1200, length ?? 0)}
        />
      )}
      <TextInput
        label={words.stockPage.place}
        value={place}
        maxLength={60}
        onChange={(event) => setPlace(event.currentTarget.value)}
      />
      {keep.error && <Trouble error={keep.error} again={() => keep.reset()} />}
      <Button type="submit" loading={keep.isPending} disabled={!outline}>
        {words.stockPage.save}
      </Button>
    </form>
  );
}
