import { stageReady } from "./story.mjs";
import { expect } from "./watch.mjs";

const panels = ["hood", "mirror_face_left", "mirror_face_right"];

/** What has no page yet is asked of the API as a page would. */
async function ask(page, address, data) {
  const answer = await (data ? page.request.post(address, { data }) : page.request.get(address));
  expect(answer.ok(), `${address}: ${await answer.text()}`);
  return answer.json();
}

/** From the counter to a claim years later. */
export const wholeStory = [
  {
    name: "the whole story: counter, layout by hand, knife, plotter, cards with a recut, certificate, lot",
    async run({ page }) {
      await page.goto("/counter");
      await stageReady(page);
      for (const name of [/^Hood /, /^Mirror face left/, /^Mirror face right/])
        await page.getByRole("button", { name, pressed: false }).first().click();
      await page.getByLabel("Name of the job").fill("Hood and mirrors, from start to end");
      await page.getByLabel("Customer").fill("Quill Marrow");
      await page.getByRole("button", { name: "Open the job" }).click();
      await page.waitForURL(/\/jobs\/[^/]+\/body/);
      const job = /\/jobs\/([^/]+)\//.exec(page.url())[1];

      await page.getByRole("link", { name: "Roll", exact: true }).click();
      await page.getByText("5 s", { exact: true }).click();
      await page.getByRole("button", { name: /^Lay out/ }).click();
      await page.getByText(/An independent check found no fault/).waitFor();
      await page.getByRole("option", { name: /^Hood / }).click();
      const along = page.getByRole("textbox", { name: "Along" });
      const before = await along.inputValue();
      await page.getByRole("group", { name: "Nearer" }).focus();
      await page.keyboard.press("Shift+ArrowRight");
      expect((await along.inputValue()) !== before, "the piece did not move");
      await page.getByRole("button", { name: "Undo" }).click();
      expect((await along.inputValue()) === before, "undo did not put it back");

      await page.getByRole("link", { name: "Plan the knife" }).click();
      await page.getByRole("button", { name: /^Plan/ }).click();
      await page.getByRole("button", { name: "Release to the plotter" }).click();
      await page
        .getByRole("button", { name: /^Cut from the file|^Start cutting/ })
        .first()
        .click();
      await page.getByRole("button", { name: "All of it is cut" }).click();
      await page.getByText("finished", { exact: true }).first().waitFor();

      await page.getByRole("link", { name: "Cards", exact: true }).click();
      for (let card = 0; card < panels.length; card++) {
        const name = await page.getByRole("heading", { level: 1 }).innerText();
        await page.getByRole("button", { name: "Laid", exact: true }).click();
        if (card < panels.length - 1)
          await page.waitForFunction(
            (old) => document.querySelector("h1")?.innerText !== old,
            name,
          );
      }
      await page.getByText("All panels: 3 of 3 laid").waitFor();
      await page.getByRole("button", { name: "Recut" }).click();
      await page.getByRole("combobox", { name: "Why" }).click();
      await page.getByRole("option", { name: "Creased" }).click();
      await page.getByRole("button", { name: "Ask for a recut" }).click();
      await page.getByText("recut wanted", { exact: true }).waitFor();
      await page.waitForTimeout(1100);
      await page.getByRole("button", { name: "Laid", exact: true }).click();
      await page.getByText("All panels: 3 of 3 laid").waitFor();
      await page.getByText("All reports sent").waitFor();

      // No page for these when this was written: inspection, hand-over, claim, lots.
      const at = `/api/v1/jobs/${job}`;
      const { checklist } = await ask(page, `${at}/installation`);
      await ask(page, `${at}/inspections`, {
        findings: checklist.map(({ item }) => ({ item, good: true })),
      });
      const certificate = await ask(page, `${at}/hand-over`, { received_by: "Quill Marrow" });
      expect(certificate.job === decodeURIComponent(job), "the certificate is of another job");
      const { lines } = await ask(page, `${at}/cards`);
      const [piece] = lines.find(({ panel }) => panel === "hood").on;
      await ask(page, "/api/v1/claims", {
        piece: piece.number,
        what: "The edge lifts at the front.",
        reported_by: "Quill Marrow",
      });
      const trace = await ask(page, `/api/v1/lots?lot=${encodeURIComponent(piece.lot)}`);
      const found = trace.vehicles.find((one) => one.job === decodeURIComponent(job));
      expect(found?.pieces.length >= 4, "the lot does not lead to the vehicle's pieces");
    },
  },
];
