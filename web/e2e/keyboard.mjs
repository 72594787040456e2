import { pages } from "./looks.mjs";
import { openPlan } from "./plan_story.mjs";
import { tabTo } from "./reach.mjs";
import { openFirstJob, stageReady } from "./story.mjs";
import { expect } from "./watch.mjs";

/** What takes more than reaching a control: done from end to end without a pointer. */
export const keyboard = [
  {
    name: "keyboard: surfaces are chosen at the counter, priced, set beside and sent, without a pointer",
    async run({ page }) {
      await page.goto("/counter");
      await stageReady(page);
      await tabTo(page, page.getByRole("application"));
      await page.keyboard.press("ArrowLeft");
      await page.keyboard.press("+");
      await tabTo(page, page.getByRole("button", { name: /^Hood / }));
      await page.keyboard.press("Enter");
      await page.getByText(/^Laying takes/).waitFor();
      await tabTo(page, page.getByRole("button", { name: "Set beside as an alternative" }));
      await page.keyboard.press("Enter");
      await tabTo(page, page.getByLabel("Customer"));
      await page.keyboard.type("Quill Marrow");
      await tabTo(page, page.getByRole("button", { name: "Send as a quote" }));
      await page.keyboard.press("Enter");
      await page.getByText(/^Quote Q-\d+ is sent/).waitFor();
    },
  },
  {
    name: "keyboard: an edge is chosen and given an allowance without a pointer",
    async run({ page }) {
      await openFirstJob(page, "pieces", "?piece=intake_trim_left");
      await page.getByRole("heading", { level: 2, name: "Intake trim left" }).waitFor();
      const edge = page.getByRole("table").getByRole("button").first();
      await tabTo(page, edge);
      await page.keyboard.press("Enter");
      const allowance = page.getByLabel(/^Allowance \(/);
      await tabTo(page, allowance);
      const before = await allowance.inputValue();
      await page.keyboard.press("ArrowUp");
      expect((await allowance.inputValue()) !== before, "the allowance did not change");
      await page.getByText(/The tuck bunches by/).waitFor();
    },
  },
  {
    name: "keyboard: a piece is moved, turned, locked and swapped, from the list to the roll",
    async run({ page }) {
      await pages.roll(page);
      const along = page.getByRole("textbox", { name: "Along" });
      const list = page.getByRole("listbox").first();
      await tabTo(page, list);
      await page.keyboard.press("ArrowDown");
      await along.waitFor();
      const before = await along.inputValue();
      await tabTo(page, page.getByRole("group", { name: "Nearer", exact: true }));
      await page.keyboard.press("Shift+ArrowRight");
      expect((await along.inputValue()) !== before, "the arrow key did not move the piece");
      await page.keyboard.press(".");
      await page.keyboard.press("Control+z");
      await page.keyboard.press("Control+z");
      expect((await along.inputValue()) === before, "Ctrl+Z did not put it back");
      await page.keyboard.press("l");
      await page.getByRole("button", { name: "Unlock", pressed: true }).waitFor();
      await page.keyboard.press("l");
      await tabTo(page, page.getByRole("combobox", { name: "Swap with" }));
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("Enter");
      await page
        .getByRole("button", { name: "Drop the changes" })
        .and(page.locator(":not([disabled])"))
        .waitFor();
    },
  },
  {
    name: "keyboard: a vehicle on the plan board is chosen, moved to another day on trial, and left",
    async run({ page }) {
      await openPlan(page);
      const { jobs } = await (await page.request.get("/api/v1/plan")).json();
      const open = jobs.find(({ tasks }) => tasks.every(({ state }) => state === "open"));
      const stay = page.getByRole("button", { name: new RegExp(`^${open.title} in `) }).first();
      await tabTo(page, stay);
      await page.keyboard.press("Enter");
      const to = page.getByLabel("Move to");
      await tabTo(page, to);
      await page.keyboard.press("ArrowUp");
      await tabTo(page, page.getByRole("button", { name: "What if" }));
      await page.keyboard.press("Enter");
      await page
        .getByText(/^It can(not)? be there/)
        .first()
        .waitFor();
    },
  },
];
