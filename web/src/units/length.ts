/** Lengths are millimetres everywhere; inches exist only where people read or type them. */
export type Mm = number & { readonly __unit: "mm" };
export type LengthUnit = "mm" | "in";

export const mm = (value: number): Mm => value as Mm;

const millimetresPerInch = 25.4; // exact: international inch, 1959

export const toUnit = (length: Mm, unit: LengthUnit): number =>
  unit === "mm" ? length : length / millimetresPerInch;

export const fromUnit = (value: number, unit: LengthUnit): Mm =>
  mm(unit === "mm" ? value : value * millimetresPerInch);
