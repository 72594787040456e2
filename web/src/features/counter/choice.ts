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
