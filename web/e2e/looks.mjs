import { openPlan } from "./plan_story.mjs";
import { openFirstJob, stageReady, withCut } from "./story.mjs";
import { expectAccessible, expectNoOverflow } from "./watch.mjs";

/** Brings a page to the state in which it is looked at; returns when nothing moves any more. */
const pages = {
  async bench(page) {
    await page.goto("/");
    await page.getByRole("article").first().waitFor();
    await page.getByRole("list").last().waitFor();
  },
  async counter(page) {
    await page.goto("/counter");
    await stageReady(page);
    await page.getByRole("button", { name: "All that suits" }).click();
    await page.getByRole("radio", { name: "Owlet 20" }).click();
    await page.getByRole("button", { name: "All that suits" }).click();
  },
  async find(page) {
    await page.goto("/");
    await page.getByRole("article").first().waitFor();
    await page.keyboard.press("Control+k");
    await page.getByRole("option").first().waitFor();
  },
  async cards(page) {
    await openFirstJob(page, "card", "?panel=front_bumper");
    await page.getByRole("img", { name: /^Piece for/ }).waitFor();
  },
  async vehicle(page) {
    await openFirstJob(page, "body");
    await stageReady(page);
    await page.getByRole("heading", { level: 1, name: "Pick a panel" }).waitFor();
  },
  async strain(page) {
    await openFirstJob(page, "body", "?panel=hood");
    await stageReady(page);
    await page.getByRole("img", { name: /Flat piece of Hood/ }).waitFor();
  },
  async glass(page) {
    await openFirstJob(page, "glass");
    await page.getByRole("img", { name: /^By day/ }).waitFor();
    await page.getByRole("combobox", { name: "Place" }).fill("North Carolina");
    await page.getByRole("option", { name: "North Carolina, USA" }).click();
    await page.getByRole("heading", { name: /front side, North Carolina/ }).waitFor();
  },
  async pieces(page) {
    await openFirstJob(page, "pieces", "?piece=hood");
    await page.getByRole("heading", { level: 2, name: "Hood", exact: true }).waitFor();
  },
  async roll(page) {
    await withCut(page);
    await openFirstJob(page, "roll");
    await page.getByRole("listbox").getByRole("option").first().waitFor();
  },
  async plan(page) {
    await openPlan(page);
    await page
      .getByRole("button", { name: /^White van: / })
      .first()
      .click();
    await page.getByRole("heading", { level: 2, name: /^White van/ }).waitFor();
  },
  async stock(page) {
    await page.goto("/stock");
    await page
      .getByRole("img", { name: /^Offcut/ })
      .first()
      .waitFor();
  },
  async knife(page) {
    await withCut(page);
    await openFirstJob(page, "knife");
    const list = page
      .getByRole("list")
      .filter({ has: page.getByRole("button") })
      .last();
    await list.getByRole("button").nth(40).click();
  },
};

const sizes = [
  { width: 1440, height: 900 },
  { width: 1024, height: 768 },
];

/** Every page in both looks at both sizes: accessible, inside its window, and pictured. */
export const looks = Object.entries(pages).flatMap(([name, open]) =>
  ["light", "dark"].flatMap((scheme) =>
    sizes.map((viewport) => ({
      name: `${name}, ${scheme}, ${viewport.width}x${viewport.height}`,
      viewport,
      scheme,
      async run({ page, picture }) {
        await open(page);
        await page.evaluate(() => document.fonts.ready);
        await page.waitForTimeout(800);
        await expectNoOverflow(page);
        await expectAccessible(page);
        await picture(`${name}-${scheme}-${viewport.width}x${viewport.height}`);
      },
    })),
  ),
);
