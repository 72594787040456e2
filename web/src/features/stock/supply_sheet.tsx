import { NumberInput, Select } from "@mantine/core";
import { useState } from "react";
import type { Film, Supply } from "@/api/client";
import { useSetSupply } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { EntryForm } from "@/parts/entry_form";
import { LengthInput } from "@/parts/length_input";
import { typedNumber } from "@/units/typed_number";
import { useReader } from "@/words/preferences";
import classes from "./stock.module.css";

interface SupplySheetProps {
  /** Begins with this one; none: a film or width that is not kept yet. */
  supply: Supply | undefined;
  films: readonly Film[];
  onClose: () => void;
}

/** How the shop keeps one film in one width: the least of it, how it is sold, what a roll weighs. */
export function SupplySheet({ supply, films, onClose }: SupplySheetProps) {
  const { words } = useReader();
  const page = words.stockPage;
  const set = useSetSupply();
  const [film, setFilm] = useState<string | null>(supply?.film ?? null);
  const [width, setWidth] = useState<number | undefined>(supply?.width_mm ?? 1524);
  const [minimum, setMinimum] = useState<number | undefined>(supply?.minimum_mm);
  const [rollLength, setRollLength] = useState<number | undefined>(
    supply?.roll_length_mm ?? 15_000,
  );
  const [core, setCore] = useState<number | undefined>(supply?.core_diameter_mm);
  const [figures, setFigures] = useState({
    lead_days: supply?.lead_days ?? 7,
    areal_gsm: supply?.areal_gsm ?? 0,
    wound_um: supply?.wound_um ?? 0,
    core_g: supply?.core_g ?? 0,
  });
  const figure = (name: keyof typeof figures, suffix: string, decimals = 1) => (
    <NumberInput
      label={page[name]}
      value={figures[name]}
      onChange={(typed) => setFigures({ ...figures, [name]: typedNumber(typed) ?? 0 })}
      min={0}
      decimalScale={decimals}
      suffix={` ${suffix}`}
      hideControls
    />
  );
  return (
    <Dialog title={supply ? page.changeSupply : page.addSupply} onClose={onClose}>
      <EntryForm
        submit={page.save}
        onSubmit={() =>
          film !== null &&
          width !== undefined &&
          minimum !== undefined &&
          rollLength !== undefined &&
          set.mutate(
            {
              film,
              width_mm: width,
              minimum_mm: minimum,
              roll_length_mm: rollLength,
              core_diameter_mm: core ?? 0,
              ...figures,
            },
            { onSuccess: onClose },
          )
        }
        busy={set.isPending}
        error={set.error}
        disabled={film === null || !width || minimum === undefined || !rollLength}
      >
        <Select
          label={page.film}
          value={film}
          onChange={setFilm}
          data={films.map(({ id, name }) => ({ value: id, label: name }))}
          disabled={supply !== undefined}
          required
        />
        {!supply && <LengthInput label={page.width} value={width} onChange={setWidth} required />}
        <LengthInput label={page.least} value={minimum} onChange={setMinimum} required />
        <LengthInput label={page.soldAs} value={rollLength} onChange={setRollLength} required />
        {figure("lead_days", page.dayUnit, 0)}
        <fieldset className={classes.group}>
          <legend>{page.forCheck}</legend>
          {figure("areal_gsm", "g/m²")}
          {figure("wound_um", "µm")}
          {figure("core_g", "g")}
          <LengthInput label={page.coreDiameter} value={core} onChange={setCore} />
        </fieldset>
      </EntryForm>
    </Dialog>
  );
}
