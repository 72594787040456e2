import { openFirstJob, withCut } from "./story.mjs";
import { expect } from "./watch.mjs";

const placeOf = async (page, label) =>
  Number.parseFloat(await page.getByRole("textbox", { name: label }).inputValue());

async function onTheTable(page) {
  await withCut(page);
  await openFirstJob(page, "roll");
  await page.getByRole("option", { name: /^Hood / }).click();
  await page.getByRole("textbox", { name: "Along" }).waitFor();
}

/** The middle of the picked piece on the nearer picture, in screen pixels. */
async function middleOf(page, name) {
  const piece = page
    .locator("[data-key]", { has: page.locator(`title:text-is("${name}")`) })
    .last();
  const box = await piece.boundingBox();
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** A hand on the roll. */
export const rollTable = [
  {
    name: "a piece is dragged on the roll: clashes show, undo takes it back, room is made and kept",
    async run({ page }) {
      await onTheTable(page);
      const before = await placeOf(page, "Along");
      const from = await middleOf(page, "Hood");
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      for (let step = 1; step <= 10; step++) await page.mouse.move(from.x + 12 * step, from.y);
      await page.getByRole("status").filter({ hasText: /clash/ }).waitFor(); // while it is held
      await page.mouse.up();
      await page
        .getByText(/lies on another piece/)
        .first()
        .waitFor();
      expect((await placeOf(page, "Along")) > before, "the piece did not move");
      const keep = page.getByRole("button", { name: "Keep this layout" });
      expect(await keep.isDisabled(), "a layout with clashes can be kept");

      await page.getByRole("button", { name: "Undo" }).click();
      await page.waitForFunction(() => !document.body.innerText.includes("lies on another piece"));
      expect((await placeOf(page, "Along")) === before, "undo did not put the piece back");
      await page.getByRole("button", { name: "Redo" }).click();
      await page
        .getByText(/lies on another piece/)
        .first()
        .waitFor();

      await page.getByRole("button", { name: "Make room" }).click();
      await page.getByRole("status").filter({ hasText: "No clash" }).waitFor();
      await keep.click();
      await page.getByText(/An independent check found no fault/).waitFor();
      await page.reload();
      await page.getByRole("option", { name: /^Hood / }).click();
      expect((await placeOf(page, "Along")) > before, "what was kept is not there after a reload");
    },
  },
  {
    name: "pieces are moved, turned, locked and swapped, and faults marked, by keyboard alone",
    async run({ page }) {
      await onTheTable(page);
      const before = await placeOf(page, "Along");
      const picture = page.getByRole("group", { name: "Nearer", exact: true });
      await picture.focus();
      await page.keyboard.press("Shift+ArrowRight");
      await page.keyboard.press("ArrowRight");
      expect((await placeOf(page, "Along")) > before, "the arrow keys did not move the piece");
      await page.keyboard.press("Control+z");
      await page.keyboard.press("Control+z");
      expect((await placeOf(page, "Along")) === before, "Ctrl+Z did not put the piece back");
      await page.keyboard.press(",");
      await page.keyboard.press("Control+z");
      await page.keyboard.press("l");
      await page.getByRole("button", { name: "Unlock", pressed: true }).waitFor();
      await page.keyboard.press("ArrowRight");
      expect((await placeOf(page, "Along")) === before, "a locked piece was moved");
      await picture.focus();
      await page.keyboard.press("l");
      await page.getByRole("combobox", { name: "Swap with" }).fill("Roof");
      await page.getByRole("option", { name: "Roof", exact: true }).last().click();
      expect((await placeOf(page, "Along")) > before, "the pieces did not change places");
      await picture.focus();
      await page.keyboard.press("Control+z");

      await page.getByRole("button", { name: "Mark a fault" }).focus();
      await page.keyboard.press("Enter");
      await page.getByRole("strong").filter({ hasText: "Fault 1" }).waitFor();
      await page
        .getByText(/covers faulty film/)
        .first()
        .waitFor();
      await picture.focus();
      await page.keyboard.press("Delete");
      await page.waitForFunction(() => !document.body.innerText.includes("covers faulty film"));
    },
  },
  {
    name: "a search goes on from the edited layout and leaves a locked piece where it is",
    async run({ page }) {
      await onTheTable(page);
      const before = await placeOf(page, "Along");
      const picture = page.getByRole("group", { name: "Nearer", exact: true });
      await picture.focus();
      for (let i = 0; i < 4; i++) await page.keyboard.press("Shift+ArrowRight");
      const there = await placeOf(page, "Along");
      expect(there > before, "the piece did not move");
      await picture.focus();
      await page.keyboard.press("l");
      await page.getByText("5 s", { exact: true }).click();
      await page.getByRole("button", { name: "Squeeze from here" }).click();
      await page.getByRole("button", { name: "Stop and keep the best" }).waitFor();
      await page.getByText(/An independent check found no fault/).waitFor();
      await page.getByRole("option", { name: /^Hood / }).click();
      expect((await placeOf(page, "Along")) === there, "the locked piece was moved");
      await page.getByRole("button", { name: "Undo" }).click();
    },
  },
];
