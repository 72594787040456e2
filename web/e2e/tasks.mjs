import { cardsOf, withReleased } from "./cards.mjs";
import { withCut } from "./story.mjs";

const lot = "DC-0417";

/** Sees to it that a piece of the lot is on a vehicle. */
async function aPieceOfTheLot(page) {
  const job = await withReleased(page);
  const bare = (await cardsOf(page, job)).find(({ on }) => on.length === 0);
  const answer = await page.request.post(`/api/v1/jobs/${encodeURIComponent(job)}/installed`, {
    data: { event: "task-of-finding-a-lot", panel: bare.panel, lot },
  });
  if (!answer.ok()) throw new Error(await answer.text());
}

/** What a shop does every day, as a script of clicks and entries; each counts as one. */
function hand(clicks) {
  return {
    click: async (target) => {
      clicks.count++;
      await target.click();
    },
    type: async (target, text) => {
      clicks.count++;
      await target.fill(text);
    },
    press: async (page, key) => {
      clicks.count++;
      await page.keyboard.press(key);
    },
  };
}

/** Five things a new user is asked to do. `before` is not the user's work. */
export const tasks = [
  {
    figure: "quote a full front",
    limit: 60,
    async run(page, clicks) {
      const { click, type } = hand(clicks);
      await click(page.getByRole("link", { name: "Counter" }).first());
      await page.locator("[data-orbit][data-ready=true] canvas").waitFor();
      await click(page.getByRole("radio", { name: "Dandelion Clear" }));
      await click(page.getByRole("button", { name: "Whole zone: Front" }));
      await type(page.getByLabel("Name of the job"), "Full front");
      await type(page.getByLabel("Customer"), "Quill Marrow");
      await click(page.getByRole("button", { name: "Send as a quote" }));
      await page.getByText(/^Quote Q-\d+ is sent/).waitFor();
      const paper = await page.getByRole("link", { name: "Its PDF" }).getAttribute("href");
      const answer = await page.request.get(paper);
      if (!answer.ok()) throw new Error(`the quote's paper: ${answer.status()}`);
    },
  },
  {
    figure: "cut a spoiled piece again",
    limit: 30,
    before: withCut,
    async run(page, clicks) {
      const { click } = hand(clicks);
      await click(page.getByRole("article").last().getByRole("link").first());
      await click(page.getByRole("link", { name: "Roll", exact: true }));
      await click(page.getByRole("listbox").getByRole("option").first());
      await click(page.getByRole("button", { name: "Cut this piece again" }));
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("radio").last().waitFor();
      await click(dialog.getByText("Dirt under it"));
      await click(dialog.getByRole("button", { name: "Cut it now" }));
      await dialog.getByText(/X-\d+ is booked/).waitFor();
    },
  },
  {
    figure: "answer a rush request",
    limit: 60,
    async run(page, clicks) {
      const { click, type } = hand(clicks);
      await click(page.getByRole("link", { name: "Plan", exact: true }));
      await click(page.getByRole("button", { name: "At the counter" }));
      const dialog = page.getByRole("dialog");
      await type(dialog.getByLabel("Name of the vehicle"), "Amber roadster");
      await type(dialog.getByLabel("Hours of body film"), "14");
      const now = (await (await page.request.get("/api/v1/plan")).json()).now;
      const wanted = new Date(Date.parse(`${now}:00Z`) + 3 * 86_400_000).toISOString();
      await type(dialog.getByLabel("Wanted by"), `${wanted.slice(0, 10)}T17:00`);
      await click(dialog.getByRole("button", { name: "What if it goes first?" }));
      await dialog
        .getByText(/^(Yes, when it goes before|No, it cannot|No plan was found)/)
        .waitFor();
    },
  },
  {
    figure: "find the vehicles of a lot",
    limit: 15,
    before: aPieceOfTheLot,
    async run(page, clicks) {
      const { press, type, click } = hand(clicks);
      await press(page, "Control+k");
      await type(page.getByRole("combobox", { name: /^Job, page/ }), lot);
      await click(page.getByRole("option").filter({ hasText: /lot$/ }).first());
      await page.getByRole("row").filter({ hasText: lot }).first().waitFor();
    },
  },
  {
    figure: "lay out one vehicle and start the cut (5 s of search)",
    limit: 60,
    async before(page) {
      await page.request.post("/api/v1/jobs", {
        data: {
          title: "Hood and mirrors",
          vehicle: "estate",
          scope: [
            { panel: "hood", film: "dandelion-clear" },
            { panel: "mirror_face_left", film: "dandelion-clear" },
            { panel: "mirror_face_right", film: "dandelion-clear" },
          ],
        },
      });
    },
    async run(page, clicks) {
      const { click } = hand(clicks);
      await click(page.getByRole("link", { name: "Hood and mirrors" }).first());
      await click(page.getByRole("link", { name: "Roll", exact: true }));
      await click(page.getByText("5 s", { exact: true }));
      await click(page.getByRole("button", { name: /^Lay out/ }));
      await page.getByText(/An independent check found no fault/).waitFor();
      await click(page.getByRole("link", { name: "Plan the knife" }));
      await click(page.getByRole("button", { name: /^Plan/ }));
      await click(page.getByRole("button", { name: "Release to the plotter" }));
      await click(page.getByRole("button", { name: /^Start cutting|^Cut from the file/ }).first());
      await page
        .getByText(/of \d+|cutting|finished|all sent/)
        .first()
        .waitFor();
    },
  },
];
