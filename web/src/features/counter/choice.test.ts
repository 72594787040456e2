import { expect, it } from "vitest";
import type { Film, Panel } from "@/api/client";
import { toggled, withFilm } from "./choice";

const panel = (id: string, finish: string, area = 1e6) =>
  ({ id, finish, area_mm2: area }) as unknown as Panel;
const film = (id: string, suits: string[]) => ({ id, suits }) as unknown as Film;
const hood = panel("hood", "gloss_paint", 2e6);
const lamp = panel("lamp", "lamp");
const clear = film("clear", ["gloss_paint"]);

it("film goes only on what it suits, and comes off with a second click", () => {
  const on = withFilm(new Map(), [hood, lamp], clear);
  expect([...on]).toEqual([["hood", "clear"]]);
  expect([...toggled(on, hood, clear)]).toEqual([]);
  expect([...toggled(on, hood, undefined)]).toEqual([]);
});
