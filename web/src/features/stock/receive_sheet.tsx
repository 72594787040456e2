import { Button, Select, TextInput } from "@mantine/core";
import { useState } from "react";
import type { Film } from "@/api/client";
import { useReceiveRoll } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { LengthInput } from "@/parts/length_input";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

interface ReceiveSheetProps {
  opened: boolean;
  films: readonly Film[];
  onClose: () => void;
}

export function ReceiveSheet({ opened, films, onClose }: ReceiveSheetProps) {
  const { words } = useReader();
  return (
    <Dialog opened={opened} onClose={onClose} title={words.stockPage.receive}>
      <ReceiveForm films={films} onDone={onClose} />
    </Dialog>
  );
}

function ReceiveForm({ films, onDone }: { films: readonly Film[]; onDone: () => void }) {
  const { words } = useReader();
  const receive = useReceiveRoll();
  const [film, setFilm] = useState<string | null>(null);
  const [lot, setLot] = useState("");
  const [width, setWidth] = useState<number | undefined>(1524);
  const [length, setLength] = useState<number | undefined>(15000);
  const [place, setPlace] = useState("");
  return (
    <form
      className={classes.form}
      onSubmit={(event) => {
        event.preventDefault();
        if (film === null || width === undefined || length === undefined) return;
        receive.mutate(
          { film, lot: lot.trim(), width_mm: width, length_mm: length, place: place.trim() },
          { onSuccess: onDone },
        );
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
      <LengthInput label={words.stockPage.width} value={width} onChange={setWidth} required />
      <LengthInput label={words.stockPage.length} value={length} onChange={setLength} required />
      <TextInput
        label={words.stockPage.place}
        value={place}
        maxLength={60}
        onChange={(event) => setPlace(event.currentTarget.value)}
      />
      {receive.error && <Trouble error={receive.error} again={() => receive.reset()} />}
      <Button type="submit" loading={receive.isPending}>
        {words.stockPage.save}
      </Button>
    </form>
  );
}
