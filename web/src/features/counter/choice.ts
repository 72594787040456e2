import type { Film, Panel } from "@/api/client";

/** Which film each covered panel gets. */
export type Choice = ReadonlyMap<string, string>;

export const suits = (film: Film, panel: Panel) => film.suits.includes(panel.finish);

/** Puts a film on panels, or takes it off where `film` is undefined; what it does not suit stays. */
export function withFilm(choice: Choice, panels: readonly Panel[], film: Film | undefined): Choice {
  const next = new Map(choice);
  for (const panel of panels) {
    if (film === undefined) next.delete(panel.id);
    else if (suits(film, panel)) next.set(panel.id, film.id);
  }
  return next;
}

/** A click: puts the film on, or takes it off where it is already. */
export const toggled = (choice: Choice, panel: Panel, film: Film | undefined): Choice =>
  withFilm(choice, [panel], film && choice.get(panel.id) === film.id ? undefined : film);

export interface Need {
  film: string;
  panels: number;
  area: number; // mm²
  length: number; // mm of the widest roll
}

/** Share of a roll that pieces usually cover, and what tucked edges add to a panel's area: common
 * practice, no source. */
const usualUse = 0.78;
const edges = 1.08;
const widestRoll = 1524; // mm, 60 in

/** Film needed, by film, before anything is laid out. */
export function needOf(
  choice: Choice,
  panels: readonly Panel[],
  widthOf: (film: string) => number | undefined,
): Need[] {
  const needs = new Map<string, Need>();
  for (const panel of panels) {
    const film = choice.get(panel.id);
    if (film === undefined) continue;
    const need = needs.get(film) ?? { film, panels: 0, area: 0, length: 0 };
    need.panels++;
    need.area += panel.area_mm2;
    needs.set(film, need);
  }
  return [...needs.values()].map((need) => ({
    ...need,
    length: (need.area * edges) / usualUse / (widthOf(need.film) ?? widestRoll),
  }));
}
