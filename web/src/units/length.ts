/** Lengths are millimetres everywhere; inches exist only where people read or type them. */
export type Mm = number & { readonly __unit: "mm" };
export type LengthUnit = "mm" | "in";

export const mm = (value: number): Mm => value as Mm;

const millimetresPerInch = 25.4; // exact: international inch, 1959
const inchesPerFoot = 12;

export const toUnit = (length: Mm, unit: LengthUnit): number =>
  unit === "mm" ? length : length / millimetresPerInch;

export const fromUnit = (value: number, unit: LengthUnit): Mm =>
  mm(unit === "mm" ? value : value * millimetresPerInch);

/** A length of roll: metres or feet. */
export const toRollUnit = (length: Mm, unit: LengthUnit): number =>
  unit === "mm" ? length / 1000 : length / (millimetresPerInch * inchesPerFoot);

export const rollUnitName = (unit: LengthUnit): string => (unit === "mm" ? "m" : "ft");

/** An area given in square millimetres: square metres or square feet. */
export const toAreaUnit = (area: number, unit: LengthUnit): number =>
  toRollUnit(mm(toRollUnit(mm(area), unit)), unit);

export const areaUnitName = (unit: LengthUnit): string => (unit === "mm" ? "m²" : "ft²");
