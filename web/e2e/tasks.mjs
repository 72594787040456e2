import { withReleased } from "./cards.mjs";

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

export const tasks = [
  {
    figure: "scope a full front in 3D and open the job",
    limit: 60,
    async run(page, clicks) {
      const { click, type } = hand(clicks);
      await click(page.getByRole("link", { name: "Counter" }));
      await page.locator("[data-orbit][data-ready=true] canvas").waitFor();
      await click(page.getByRole("radio", { name: "Dandelion Clear" }));
      await click(page.getByRole("button", { name: "Whole zone: Front" }));
      await type(page.getByLabel("Name of the job"), "Full front");
      await type(page.getByLabel("Customer"), "Quill Marrow");
      await click(page.getByRole("button", { name: "Open the job" }));
      await page.waitForURL(/\/jobs\/[^/]+\/body/);
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
  {
    figure: "ask for a recut of one piece",
    limit: 30,
    before: withReleased,
    async run(page, clicks) {
      const { click } = hand(clicks);
      await click(page.getByRole("link", { name: "Lay the film" }).first());
      await click(page.getByRole("button", { name: "Recut" }));
      await click(page.getByRole("combobox", { name: "Why" }));
      await click(page.getByRole("option", { name: "Creased" }));
      await click(page.getByRole("button", { name: "Ask for a recut" }));
      await page.getByText("All reports sent").waitFor();
    },
  },
  {
    figure: "find the roll of a lot",
    limit: 15,
    async run(page, clicks) {
      const { press, type } = hand(clicks);
      await press(page, "Control+k");
      await type(page.getByRole("combobox", { name: "Job, page, film, roll or lot" }), "DC-0417");
      await page
        .getByRole("option", { name: /DC-0417/ })
        .first()
        .waitFor();
      await press(page, "Enter");
    },
  },
];
