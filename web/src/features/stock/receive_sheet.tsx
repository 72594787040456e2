import { useState } from "react";
import type { Film } from "@/api/client";
import { useReceiveRoll } from "@/api/stock_queries";
import { LengthInput } from "@/parts/length_input";
import { useReader } from "@/words/preferences";
import { FilmDialog } from "./film_dialog";

/** A roll taken into stock. */
export function ReceiveSheet({ films, onClose }: { films: readonly Film[]; onClose: () => void }) {
  const { words } = useReader();
  const receive = useReceiveRoll();
  const [width, setWidth] = useState<number | undefined>(1524);
  const [length, setLength] = useState<number | undefined>(15000);
  return (
    <FilmDialog
      title={words.stockPage.receive}
      films={films}
      onSave={(origin) =>
        width !== undefined &&
        length !== undefined &&
        receive.mutate({ ...origin, width_mm: width, length_mm: length }, { onSuccess: onClose })
      }
      onClose={onClose}
      busy={receive.isPending}
      error={receive.error}
      disabled={!width || !length}
    >
      <LengthInput label={words.stockPage.width} value={width} onChange={setWidth} required />
      <LengthInput label={words.stockPage.length} value={length} onChange={setLength} required />
    </FilmDialog>
  );
}
