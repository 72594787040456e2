import { useState } from "react";
import type { Film } from "@/api/client";
import { useKeepOffcut } from "@/api/stock_queries";
import { LengthInput } from "@/parts/length_input";
import { OutlinePicture } from "@/parts/outline_picture";
import { useReader } from "@/words/preferences";
import { FilmDialog } from "./film_dialog";

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

/** An offcut measured by hand and put on the shelf. */
export function OffcutSheet({ films, onClose }: { films: readonly Film[]; onClose: () => void }) {
  const { words } = useReader();
  const keep = useKeepOffcut();
  const [length, setLength] = useState<number | undefined>(600);
  const [width, setWidth] = useState<number | undefined>(400);
  const [corner, setCorner] = useState<number | undefined>();
  const outline =
    length && width && (corner ?? 0) < Math.min(length, width)
      ? outlineOf(length, width, corner ?? 0)
      : undefined;
  return (
    <FilmDialog
      title={words.stockPage.keepOffcut}
      films={films}
      onSave={(origin) => outline && keep.mutate({ ...origin, outline }, { onSuccess: onClose })}
      onClose={onClose}
      busy={keep.isPending}
      error={keep.error}
      disabled={!outline}
    >
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
    </FilmDialog>
  );
}
