import type { Installation, NewFinding } from "@/api/installation_queries";

export interface Finding {
  good?: boolean;
  note: string;
  photo: string;
}

export type Findings = Readonly<Record<string, Finding>>;

export const nothingFound: Finding = { note: "", photo: "" };

type Checklist = Installation["checklist"];

export const looked = (list: Checklist, findings: Findings) =>
  list.filter(({ item }) => findings[item]?.good !== undefined).length;

/** What was found, ready to be kept; undefined while an item is open or a fault has no reason. */
export function findingsToKeep(list: Checklist, findings: Findings): NewFinding[] | undefined {
  const all = list.map(({ item }): NewFinding | undefined => {
    const { good, note, photo } = findings[item] ?? nothingFound;
    if (good === undefined || (!good && note.trim().length < 3)) return undefined;
    return { item, good, note: note.trim(), ...(photo && { photo }) };
  });
  return all.every((one) => one !== undefined) ? all : undefined;
}

/** Every item that nobody has looked at counts as good. */
export const restGood = (list: Checklist, findings: Findings): Findings =>
  Object.fromEntries(
    list.map(({ item }) => [
      item,
      { ...nothingFound, ...findings[item], good: findings[item]?.good ?? true },
    ]),
  );
