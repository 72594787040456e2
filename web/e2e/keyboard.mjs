import { dialogs, pages } from "./looks.mjs";
import { openPlan } from "./plan_story.mjs";
import { openFirstJob, stageReady } from "./story.mjs";
import { expect } from "./watch.mjs";

/**
 * Lists what a pointer can do on the page: what is a control by nature or by role, and whatever
 * React was given a pointer's handler for. Kept in the page, for elements cannot leave it.
 */
function listActions() {
  const natural =
    "a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], " +
    "[role=option], [role=radio], [role=menuitem], [role=slider], [role=tab], [role=application]";
  const handlers = ["onClick", "onPointerDown", "onMouseDown", "onDoubleClick", "onDragStart"];
  const handled = (element) => {
    const key = Object.keys(element).find((name) => name.startsWith("__reactProps$"));
    return key !== undefined && handlers.some((name) => element[key][name] !== undefined);
  };
  const seen = (element) => {
    if (element.closest("[aria-hidden=true], [inert]")) return false;
    if (element.matches(":disabled, [aria-disabled=true], [data-disabled=true]")) return false;
    // A file's own input is hidden behind the button that opens it.
    if (element.matches("input[type=file]")) return false;
    const { width, height } = element.getBoundingClientRect();
    return width > 0 && height > 0 && element.checkVisibility({ visibilityProperty: true });
  };
  const dialog = document.querySelector("[role=dialog]");
  window.actions = [...(dialog ?? document).querySelectorAll("*")].filter(
    (element) => (element.matches(natural) || handled(element)) && seen(element),
  );
  window.reached = new Set();
  return window.actions.length;
}

/** Notes where the focus is; answers whether it was there before, and how much it has come over. */
function noteFocus() {
  const at = document.activeElement;
  if (!at || at === document.body) return { fresh: false, count: window.reached.size };
  const fresh = !window.reached.has(at);
  window.reached.add(at);
  return { fresh, count: window.reached.size };
}

/** What was listed and cannot be had without a pointer. */
function unreached() {
  const all = [...window.reached];
  const names = new Set(all.map((element) => element.textContent?.trim()));
  const has = (element) => {
    if (window.reached.has(element)) return true;
    // Of native radio buttons Tab visits one, the arrow keys visit the others.
    if (element.matches("input[type=radio]"))
      return all.some((other) => other.type === "radio" && other.name === element.name);
    // Of a menu, list or tree the one element has the focus, and the arrow keys go through it.
    const list = element.closest("[role=listbox], [role=tablist], [role=menu], [role=toolbar]");
    if (element.matches("[role=option], [role=tab], [role=menuitem]") && list)
      return all.some(
        (other) =>
          list.contains(other) || other === list || other.getAttribute("aria-controls") === list.id,
      );
    // What names radio buttons only hears the pointer to keep its text from being marked.
    const named =
      element.id && document.querySelector(`[role=radiogroup][aria-labelledby~="${element.id}"]`);
    if (named) return all.some((other) => named.contains(other));
    // A label, or a frame round a control, does what the control does.
    if (element.matches("label") && element.control) return has(element.control);
    if (all.some((other) => element !== other && element.contains(other))) return true;
    // What lies in something that has the focus and hears keys; tried one by one below.
    if (all.some((other) => other !== element && other.contains(element) && other.tabIndex >= 0))
      return true;
    // What is drawn has a button of the same name beside it.
    const title = element.querySelector(":scope > title")?.textContent;
    if (title && (names.has(title) || [...names].some((name) => name?.startsWith(title))))
      return true;
    // The cloth behind a dialog: Escape closes it.
    return element.matches("[class*=overlay], [class*=inner]") && !element.matches("button");
  };
  return window.actions
    .filter((element) => element.isConnected && !has(element))
    .map(
      (element) =>
        `${element.tagName.toLowerCase()} ${element.getAttribute("role") ?? ""} "${(
          element.getAttribute("aria-label") ??
          element.querySelector("title")?.textContent ??
          element.textContent ??
          ""
        ).slice(0, 60)}" ${String(element.getAttribute("class") ?? "").slice(0, 60)}`,
    );
}

const mostPresses = 900;

export async function everythingIsReached(page) {
  await page.waitForTimeout(500);
  const count = await page.evaluate(listActions);
  expect(count > 0, "nothing can be done here at all");
  await page.evaluate(() => document.activeElement?.blur());
  // A whole round without anything new is the end.
  for (let presses = 0, stale = 0; presses < mostPresses; presses++) {
    await page.keyboard.press("Tab");
    const { fresh, count: over } = await page.evaluate(noteFocus);
    stale = fresh ? 0 : stale + 1;
    if (stale > over + 2) break;
  }
  const missing = await page.evaluate(unreached);
  expect(
    missing.length === 0,
    `${missing.length} of ${count} actions are out of the keyboard's reach:\n  ${missing.join("\n  ")}`,
  );
  console.log(`        ${count} actions`);
}

/** Presses Tab until what is looked for has the focus. */
async function tabTo(page, element) {
  await element.waitFor();
  for (let presses = 0; presses < mostPresses; presses++) {
    if (await element.evaluate((node) => node === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reaches ${element}`);
}

export const keyboard = [
  ...Object.entries(pages).map(([name, open]) => ({
    name: `keyboard: every action of the page ${name} is within reach`,
    async run({ page }) {
      await open(page);
      await everythingIsReached(page);
    },
  })),
  ...Object.entries(dialogs).map(([name, open]) => ({
    name: `keyboard: every action of the dialog ${name} is within reach, and Escape closes it`,
    async run({ page }) {
      await open(page);
      await everythingIsReached(page);
      await page.keyboard.press("Escape");
      await page.getByRole("dialog").waitFor({ state: "detached" });
    },
  })),
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
