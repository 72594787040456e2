import { Select, TextInput } from "@mantine/core";
import { type ReactNode, useState } from "react";
import type { Film } from "@/api/client";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { useReader } from "@/words/preferences";

export interface Origin {
  film: string;
  lot: string;
  place: string;
}

interface FilmDialogProps {
  title: string;
  films: readonly Film[];
  onSave: (origin: Origin) => void;
  onClose: () => void;
  busy: boolean;
  error: unknown;
  disabled: boolean;
  /** Its measures. */
  children: ReactNode;
}

/** Film that comes into stock: which film, its lot, its measures, where it is kept. */
export function FilmDialog(props: FilmDialogProps) {
  const { title, films, onSave, onClose, busy, error, disabled, children } = props;
  const { words } = useReader();
  const [film, setFilm] = useState<string | null>(null);
  const [lot, setLot] = useState("");
  const [place, setPlace] = useState("");
  return (
    <Dialog title={title} onClose={onClose}>
      <EntryForm
        submit={words.stockPage.save}
        onSubmit={() => film !== null && onSave({ film, lot: lot.trim(), place: place.trim() })}
        busy={busy}
        error={error}
        disabled={disabled}
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
        {children}
        <TextInput
          label={words.stockPage.place}
          value={place}
          maxLength={60}
          onChange={(event) => setPlace(event.currentTarget.value)}
        />
      </EntryForm>
    </Dialog>
  );
}
