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
    if (element.matches("label") && element.control?.disabled) return false;
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
  // How often in a row the focus came to what it had been at before.
  window.stale = 0;
  const note = ({ target }) => {
    window.stale = window.reached.has(target) ? window.stale + 1 : 0;
    window.reached.add(target);
  };
  window.forgetFocus?.();
  window.forgetFocus = () => document.removeEventListener("focusin", note, true);
  document.addEventListener("focusin", note, true);
  return window.actions.length;
}

/** Whether the focus has gone a whole round over nothing new. */
const wentRound = () => window.stale > window.reached.size + 2;

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

/** Fails when something that a pointer can do on the page, or in its open dialog, is out of Tab's reach. */
export async function everythingIsReached(page) {
  const count = await page.evaluate(listActions);
  expect(count > 0, "nothing can be done here at all");
  await page.evaluate(() => document.activeElement?.blur());
  for (let presses = 0; presses < mostPresses; presses++) {
    await page.keyboard.press("Tab");
    if (presses % 8 === 7 && (await page.evaluate(wentRound))) break;
  }
  const missing = await page.evaluate(unreached);
  expect(
    missing.length === 0,
    `${missing.length} of ${count} actions are out of the keyboard's reach:\n  ${missing.join("\n  ")}`,
  );
}

/** Presses Tab until what is looked for has the focus. */
export async function tabTo(page, element) {
  await element.waitFor();
  for (let presses = 0; presses < mostPresses; presses++) {
    if (await element.evaluate((node) => node === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reaches ${element}`);
}
