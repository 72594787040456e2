/** Something that can be gone to. */
export interface Place {
  kind:
    "page" | "film" | "roll" | "job" | "customer" | "vehicle" | "lot" | "piece" | "claim" | "quote";
  name: string;
  /** What else it is known by: numbers, customers, lots. */
  also: string;
  href: string;
}

const plain = (text: string) =>
  text
    .normalize("NFD")
    .replace(/\p{Diacritic}/gu, "")
    .toLowerCase();

/** How well a place answers to what was typed; 0: not at all. Every word typed must begin or lie in
 * one of its words; beginnings and the name itself count more. */
export function rank(place: Place, typed: string): number {
  const asked = plain(typed).split(/\s+/).filter(Boolean);
  const name = plain(place.name);
  const all = `${name} ${plain(place.also)}`;
  let sum = 1;
  for (const word of asked) {
    if (name.startsWith(word)) sum += 8;
    else if (` ${name}`.includes(` ${word}`)) sum += 5;
    else if (` ${all}`.includes(` ${word}`)) sum += 3;
    else if (all.includes(word)) sum += 1;
    else return 0;
  }
  return sum;
}

/** The places that answer, the best first; in their own order where they answer alike. */
export const found = (places: readonly Place[], typed: string, most: number): Place[] =>
  places
    .map((place, index) => ({ place, index, sum: rank(place, typed) }))
    .filter(({ sum }) => sum > 0)
    .sort((a, b) => b.sum - a.sum || a.index - b.index)
    .slice(0, most)
    .map(({ place }) => place);
