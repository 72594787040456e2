/** The number in a field, which hands over text while it ends in a zero or a point ("2.50", "3.");
 * undefined while there is none. */
export function typedNumber(typed: string | number): number | undefined {
  if (typed === "") return undefined;
  const value = Number(typed);
  return Number.isFinite(value) ? value : undefined;
}
