import { expect, it } from "vitest";
import type { Film, Panel } from "@/api/client";
import { needOf, toggled, withFilm } from "./choice";

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

it("the film needed grows with the area and falls with the roll's width", () => {
  const on = withFilm(new Map(), [hood], clear);
  const [wide] = needOf(on, [hood, lamp], () => 1524);
  const [narrow] = needOf(on, [hood, lamp], () => 762);
  expect(wide).toMatchObject({ film: "clear", panels: 1, area: 2e6 });
  expect(wide && narrow && narrow.length / wide.length).toBeCloseTo(2);
  // Never less than the bare area on the roll.
  expect(wide && wide.length > 2e6 / 1524).toBe(true);
});
