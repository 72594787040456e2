import { stageReady } from "./story.mjs";
import { expect, expectAccessible, expectNoOverflow } from "./watch.mjs";

const panels = ["hood", "mirror_face_left", "mirror_face_right"];

/** A paper is there: the link leads to a PDF. */
async function expectPaper(page, name) {
  const link = page.getByRole("link", { name }).first();
  const answer = await page.request.get(await link.getAttribute("href"));
  expect(answer.ok(), `${name}: ${answer.status()}`);
  expect((await answer.body()).subarray(0, 5).toString() === "%PDF-", `${name} is no PDF`);
}

/** From the counter to a claim years later. */
export const wholeStory = [
  {
    name: "the whole story: counter, layout by hand, knife, plotter, cards with a recut, inspection, certificate, invoice, claim, lot",
    async run({ page, picture }) {
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
      await page.getByRole("group", { name: "Nearer", exact: true }).focus();
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

      await page.getByRole("link", { name: "Hand-over", exact: true }).click();
      await page.getByText("0 of 12 looked at").waitFor();
      await page
        .getByRole("radiogroup", { name: /^Every edge lies down/ })
        .getByRole("radio", { name: "Fault" })
        .check();
      await page.getByRole("button", { name: "All others are good" }).click();
      const keepFault = page.getByRole("button", { name: "Keep: 1 fault" });
      expect(await keepFault.isDisabled(), "a fault was kept without its reason");
      await page.getByLabel("What is wrong, and where").fill("lifts at the front corner");
      await page.locator('input[type="file"]').setInputFiles({
        name: "edge.png",
        mimeType: "image/png",
        buffer: await page.screenshot({ clip: { x: 0, y: 0, width: 64, height: 48 } }),
      });
      await page.getByRole("img", { name: /^Every edge lies down.*, 1$/ }).waitFor();
      await expectAccessible(page);
      await picture("hand_over-fault");
      await keepFault.click();
      await page.getByText("1 fault", { exact: true }).waitFor();
      await page.getByRole("button", { name: "All others are good" }).click();
      await page.getByRole("button", { name: "Keep: passed" }).click();
      await page.getByText("Passed", { exact: true }).waitFor();
      await expectPaper(page, /^Inspection sheet/);

      await page.getByLabel("Declined").fill("Coating of the wheels");
      await page.getByRole("button", { name: "Hand over and issue the certificate" }).click();
      await page.getByText("Received by Quill Marrow").waitFor();
      await expectPaper(page, /^Certificate/);
      await expectPaper(page, /^Care sheet/);

      await page.getByRole("button", { name: "New invoice" }).click();
      const invoice = page.getByRole("dialog", { name: "New invoice" });
      await invoice.getByLabel("Billed to").fill("Quill Marrow\n3 Osier Lane");
      await invoice.getByLabel("Net").fill("1200");
      await invoice.getByLabel("Tax").fill("19");
      await expectAccessible(page);
      await invoice.getByRole("button", { name: "Issue the invoice" }).click();
      await invoice.waitFor({ state: "hidden" });
      await page
        .getByText(/1,428\.00/)
        .first()
        .waitFor();
      await page.getByRole("button", { name: "Record a payment" }).click();
      const payment = page.getByRole("dialog", { name: "Record a payment" });
      await payment.getByRole("combobox", { name: "How it was paid" }).fill("bank transfer");
      await expectAccessible(page);
      await payment.getByRole("button", { name: "Record it" }).click();
      await payment.waitFor({ state: "hidden" });
      await page.getByText(/^Payment, /).waitFor();
      await expectPaper(page, /^Invoice/);
      await expectNoOverflow(page);
      await expectAccessible(page);
      await picture("hand_over-done");

      await page.getByRole("link", { name: /^What comes back later/ }).click();
      await page.getByRole("button", { name: "Report a claim" }).click();
      await page.getByRole("combobox", { name: "Which piece" }).click();
      await page.getByRole("option", { name: /· Hood ·/ }).click();
      await page.getByLabel("What is wrong").fill("The edge lifts at the front.");
      await page.getByRole("button", { name: "Open the claim" }).click();
      const claim = page.getByRole("article", { name: /^Claim K-/ });
      await claim.getByRole("radio", { name: "Warranty" }).check();
      await claim.getByLabel("Why").fill("Adhesive of this lot, within its term.");
      await expectAccessible(page);
      await claim.getByRole("button", { name: "Decide" }).click();
      await claim.getByText("The piece is made again").waitFor();
      await expectPaper(page, /^Claim report/);

      await claim.getByRole("button", { name: "Cut this piece again" }).click();
      const recut = page.getByRole("dialog", { name: /^Cut again: Hood/ });
      await recut.getByRole("button", { name: "Cut it now" }).click();
      await recut.getByRole("status").waitFor();
      await recut.getByRole("button", { name: "Close" }).click();
      const lot = page.getByRole("textbox", { name: "Lot" });
      await claim.getByLabel("Roll or offcut").first().click();
      await page.getByRole("option").first().click();
      expect((await lot.inputValue()) !== "", "the roll did not bring its lot");
      await claim.getByRole("button", { name: "It is laid" }).click();
      await claim.getByText(/lies in its place/).waitFor();
      await claim.getByRole("button", { name: "Issue it" }).click();
      await claim.getByRole("button", { name: "Issue it" }).waitFor({ state: "hidden" });
      await expectNoOverflow(page);
      await expectAccessible(page);
      await picture("aftercare-claim");

      await page.getByRole("row", { name: /Hood/ }).last().getByRole("link").click();
      await page
        .getByRole("region", { name: /^Lot / })
        .getByRole("link", { name: new RegExp(decodeURIComponent(job)) })
        .waitFor();
    },
  },
  {
    name: "the job's page: life, a step skipped with a reason, customer, link; by keyboard where it counts",
    async run({ page, picture }) {
      await page.goto("/counter");
      await stageReady(page);
      await page
        .getByRole("button", { name: /^Hood /, pressed: false })
        .first()
        .click();
      await page.getByLabel("Name of the job").fill("A hood for somebody new");
      await page.getByLabel("Customer").fill("Isolde Thrane");
      await page.getByRole("button", { name: "Open the job" }).click();
      await page.waitForURL(/\/jobs\/[^/]+\/body/);
      await page.getByRole("link", { name: "Job", exact: true }).click();
      await page.getByText(/Every film of the job must be laid out/).waitFor();

      await page.getByRole("button", { name: "Choose a customer" }).click();
      const dialog = page.getByRole("dialog", { name: "Choose a customer" });
      await dialog.getByText(/begins so/).waitFor();
      await dialog.getByRole("button", { name: "Add a customer" }).click();
      await dialog.getByLabel("Address").fill("4 Weir Street");
      await dialog.getByRole("button", { name: "Save" }).click();
      await dialog.getByRole("button", { name: "Add a vehicle" }).click();
      await dialog.getByLabel("Plate", { exact: true }).fill("fw 318");
      await dialog.getByRole("button", { name: "Save" }).click();
      await dialog.getByRole("radio", { name: /^FW 318/ }).waitFor();
      await expectAccessible(page);
      await dialog.getByRole("button", { name: "Link to the job" }).click();
      await dialog.waitFor({ state: "hidden" });
      await page.getByText(/^Isolde Thrane · /).waitFor();

      await page.getByRole("button", { name: "Make a link" }).click();
      const address = page.getByLabel("Address", { exact: true });
      const shared = await address.inputValue();
      await expectAccessible(page);
      await picture("job");
      const guest = await page.context().browser().newContext();
      const seen = await guest.newPage();
      await seen.goto(shared);
      await seen.getByRole("heading", { name: "A hood for somebody new" }).waitFor();
      await page.getByRole("button", { name: /^End it: / }).click();
      await page.getByText("was ended").waitFor();
      await seen.reload();
      await seen.getByRole("alert").waitFor();
      await guest.close();

      // Given up by keyboard alone: the reason is asked for, and stands in the history.
      await page.getByRole("button", { name: "Give the job up" }).focus();
      await page.keyboard.press("Enter");
      const giving = page.getByRole("dialog", { name: "Give the job up" });
      await giving.getByLabel("Reason").waitFor();
      expect(
        await giving.getByRole("button", { name: "Give the job up" }).isDisabled(),
        "a job could be given up without a reason",
      );
      await page.keyboard.type("The owner sold the vehicle.");
      await page.keyboard.press("Tab");
      await page.keyboard.press("Enter");
      await page.getByText("The job was given up.").first().waitFor();
      await page.getByRole("listitem").filter({ hasText: "The owner sold the vehicle." }).waitFor();
      await expectNoOverflow(page);
      await expectAccessible(page);
    },
  },
];
