import { NumberInput } from "@mantine/core";
import { typedNumber } from "@/units/typed_number";
import { currencyDigits } from "@/words/format";
import { useReader } from "@/words/preferences";

interface MoneyInputProps {
  label: string;
  currency: string;
  /** Minor units. */
  value: number | undefined;
  onChange: (minor: number | undefined) => void;
  required?: boolean;
  /** A discount may be below nothing. */
  negative?: boolean;
}

/** An amount typed in the currency's own unit; the value is in minor units. */
export function MoneyInput(props: MoneyInputProps) {
  const { label, currency, value, onChange, required, negative } = props;
  const { language } = useReader();
  const digits = currencyDigits(currency);
  return (
    <NumberInput
      label={label}
      value={value === undefined ? "" : value / 10 ** digits}
      onChange={(typed) => {
        const amount = typedNumber(typed);
        onChange(amount === undefined ? undefined : Math.round(amount * 10 ** digits));
      }}
      allowNegative={negative ?? false}
      decimalScale={digits}
      fixedDecimalScale
      decimalSeparator={language === "de" ? "," : "."}
      suffix={` ${currency}`}
      hideControls
      required={required ?? false}
    />
  );
}
