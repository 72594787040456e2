import { NumberInput } from "@mantine/core";
import { fromUnit, mm, toUnit } from "@/units/length";
import { typedNumber } from "@/units/typed_number";
import { useReader } from "@/words/preferences";

interface LengthInputProps {
  label: string;
  value: number | undefined;
  onChange: (mm: number | undefined) => void;
  required?: boolean;
  most?: number;
}

/** A length typed in the reader's unit; the value is in mm. */
export function LengthInput({ label, value, onChange, required, most }: LengthInputProps) {
  const { format } = useReader();
  const { unit } = format;
  return (
    <NumberInput
      label={label}
      value={
        value === undefined ? "" : Number(toUnit(mm(value), unit).toFixed(unit === "mm" ? 1 : 3))
      }
      onChange={(typed) => {
        const length = typedNumber(typed);
        onChange(length === undefined ? undefined : fromUnit(length, unit));
      }}
      min={0}
      {...(most !== undefined && { max: Math.ceil(toUnit(mm(most), unit)) })}
      decimalScale={unit === "mm" ? 1 : 3}
      suffix={` ${unit}`}
      hideControls
      required={required ?? false}
    />
  );
}
