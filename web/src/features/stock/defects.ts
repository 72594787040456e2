import type { Roll } from "@/api/client";
import type { RollDefect } from "@/api/stock_queries";

/** A defect while it is typed: a measure may be missing. */
export type Draft = { note?: string } & {
  [Name in Exclude<keyof RollDefect, "note">]: number | undefined;
};

/** Begun at the outer end, where a fault is found when the roll is opened. */
export const newDefect = (roll: Pick<Roll, "remaining_mm" | "width_mm">): Draft => ({
  from_core_mm: Math.max(0, roll.remaining_mm - 100),
  length_mm: 100,
  low_mm: 0,
  high_mm: roll.width_mm,
  note: "",
});

/** The defects when every measure is there and lies on the roll. */
export function wholeDefects(
  drafts: readonly Draft[],
  roll: Pick<Roll, "length_mm" | "width_mm">,
): RollDefect[] | undefined {
  const all = drafts.flatMap(({ from_core_mm, length_mm, low_mm, high_mm, note }): RollDefect[] => {
    if (from_core_mm === undefined || !length_mm || low_mm === undefined || !high_mm) return [];
    const isOn =
      from_core_mm + length_mm <= roll.length_mm && low_mm < high_mm && high_mm <= roll.width_mm;
    return isOn ? [{ from_core_mm, length_mm, low_mm, high_mm, note: note ?? "" }] : [];
  });
  return all.length === drafts.length ? all : undefined;
}
