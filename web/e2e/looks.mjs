import { openPlan } from "./plan_story.mjs";
import { openFirstJob, stageReady, withCut } from "./story.mjs";
import { expect, expectAccessible, expectNoOverflow } from "./watch.mjs";

/** A quote with two alternatives, made once. */
async function aQuote(page) {
  const title = "Two ways for the front";
  const { quotes } = await (await page.request.get("/api/v1/quotes")).json();
  const there = quotes.find((one) => one.title === title);
  if (there) return there.id;
  const scope = (panels) => panels.map((panel) => ({ panel, film: "dandelion-clear" }));
  const answer = await page.request.post("/api/v1/quotes", {
    data: {
      title,
      customer: "Quill Marrow",
      vehicle: "estate",
      offers: [
        { name: "Hood alone", scope: scope(["hood"]) },
        {
          name: "Hood and mirrors",
          scope: scope(["hood", "mirror_face_left", "mirror_face_right"]),
        },
      ],
    },
  });
  expect(answer.ok(), await answer.text());
  return (await answer.json()).id;
}

/** A customer with a vehicle, made once; answers the name. */
async function aCustomer(page) {
  const plate = "FW 412";
  const { customers } = await (
    await page.request.get("/api/v1/customers?start=Ismay%20Thornbury")
  ).json();
  if (customers.length > 0) return "Ismay Thornbury";
  const customer = await (
    await page.request.post("/api/v1/customers", { data: { name: "Ismay Thornbury" } })
  ).json();
  const answer = await page.request.post(`/api/v1/customers/${customer.id}/vehicles`, {
    data: { model: "estate", plate },
  });
  expect(answer.ok(), await answer.text());
  return "Ismay Thornbury";
}

/** Brings a page to the state in which it is looked at; returns when nothing moves any more. */
export const pages = {
  async bench(page) {
    await page.goto("/");
    await page.getByRole("article").first().waitFor();
    await page.getByRole("list").last().waitFor();
  },
  async counter(page) {
    await page.goto("/counter");
    await stageReady(page);
    await page.getByRole("button", { name: "Whole zone: Front" }).click();
    await page.getByText(/^Laying takes/).waitFor();
    await page.getByRole("button", { name: "Set beside as an alternative" }).click();
    for (const film of ["Dandelion Clear", "Owlet 20"]) {
      await page.getByRole("radio", { name: film }).click();
      await page.getByRole("button", { name: "All that suits" }).click();
    }
    await page.waitForFunction(() => !document.querySelector("[aria-busy=true]"));
  },
  async offer(page) {
    await page.goto("/offer");
    await page
      .getByText(/in stock$/)
      .first()
      .waitFor();
  },
  async quote(page) {
    await page.goto(`/quotes/${encodeURIComponent(await aQuote(page))}`);
    await page.getByRole("heading", { level: 1, name: "Two ways for the front" }).waitFor();
  },
  async customers(page) {
    await page.goto(`/customers?find=${encodeURIComponent(await aCustomer(page))}`);
    await page.getByRole("button", { name: "Ismay Thornbury" }).click();
    await page.getByRole("heading", { name: /^FW 412 · V-/ }).waitFor();
  },
  async people(page) {
    await page.goto("/people");
    await page.getByRole("button", { name: "Save" }).first().waitFor();
  },
  async me(page) {
    await page.goto("/me");
    await page.getByRole("heading", { level: 1 }).waitFor();
  },
  async job(page) {
    await openFirstJob(page, "job");
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.getByRole("button", { name: /^(Choose a customer|Change customer)/ }).waitFor();
  },
  async hand_over(page) {
    await openFirstJob(page, "handover");
    await page.getByRole("button", { name: "New invoice" }).waitFor();
  },
  async aftercare(page) {
    const { jobs } = await (await page.request.get("/api/v1/jobs")).json();
    const { id, title } = jobs.at(-1);
    await page.goto(`/aftercare?${new URLSearchParams({ q: title, job: id }).toString()}`);
    await page.getByRole("heading", { level: 2, name: title }).waitFor();
  },
  async find(page) {
    await page.goto("/");
    await page.getByRole("article").first().waitFor();
    await page.keyboard.press("Control+k");
    await page.getByRole("option").first().waitFor();
  },
  async job(page) {
    await openFirstJob(page, "job");
    await page.getByRole("heading", { name: "What comes next" }).waitFor();
    await page.getByRole("heading", { name: "Links for the customer" }).waitFor();
  },
  async hand_over(page) {
    await openFirstJob(page, "handover");
    await page.getByRole("heading", { name: "Invoice and payments" }).waitFor();
  },
  async claims(page) {
    const { jobs } = await (await page.request.get("/api/v1/jobs")).json();
    const { id } = jobs.find(({ state }) => state === "handed_over") ?? jobs.at(-1);
    await page.goto(`/aftercare?job=${encodeURIComponent(id)}`);
    await page.getByRole("heading", { name: "Claims" }).waitFor();
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
  async workplace(page) {
    await page.goto("/plan/workplace");
    await page.getByRole("group", { name: "Ysa Marling" }).waitFor();
    await page.locator("summary", { hasText: "lay film" }).click();
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

/** What opens over a page; each leaves it open and still. */
export const dialogs = {
  async "receive a roll"(page) {
    await pages.stock(page);
    await page.getByRole("button", { name: "Receive a roll" }).click();
  },
  async "keep an offcut"(page) {
    await pages.stock(page);
    await page.getByRole("button", { name: "Keep an offcut" }).click();
  },
  ...Object.fromEntries(
    ["Count", "Write off", "Weigh or measure", "Defects", "Ledger"].map((name) => [
      name.toLowerCase(),
      async (page) => {
        await pages.stock(page);
        await page
          .getByRole("button", { name: /: Count…$/ })
          .first()
          .click();
        await page.getByRole("menuitem", { name, exact: true }).click();
      },
    ]),
  ),
  async "how a film is kept"(page) {
    await pages.stock(page);
    await page.getByRole("button", { name: "Keep another film or width" }).click();
  },
  async "a move with its reason"(page) {
    await pages.job(page);
    await page.getByRole("button", { name: "Give the job up" }).click();
  },
  async "new invoice"(page) {
    await pages.hand_over(page);
    await page.getByRole("button", { name: "New invoice" }).click();
    await page.getByLabel("Billed to").waitFor();
  },
  async "cut again"(page) {
    await pages.roll(page);
    await page.getByRole("listbox").getByRole("option").first().click();
    await page.getByRole("button", { name: "Cut this piece again" }).click();
    await page.getByRole("dialog").getByRole("radio").last().waitFor();
  },
  async "from a photo"(page) {
    await pages.pieces(page);
    await page.getByRole("button", { name: "From a photo" }).click();
  },
  async "choose a customer"(page) {
    await pages.job(page);
    await page.getByRole("button", { name: /^(Choose a customer|Change customer)/ }).click();
  },
  async "new payment"(page) {
    await pages.hand_over(page);
    await page.getByRole("button", { name: "Record a payment" }).click();
  },
  async "plan question"(page) {
    await openPlan(page);
    await page.getByRole("button", { name: "At the counter" }).click();
  },
  async "all cards"(page) {
    await pages.cards(page);
    await page.getByRole("button", { name: /^All panels/ }).click();
  },
};

export const sizes = [
  { width: 1440, height: 900 },
  { width: 1024, height: 768 },
];

/**
 * A page or dialog is opened once and then looked at in both looks at both sizes: it turns dark
 * and narrow while it stands open, as it does before a user.
 */
const everyLook = (name, open, lookAt) => ({
  name: `looks: ${name}, light and dark, wide and narrow`,
  async run({ page, picture }) {
    await open(page);
    for (const scheme of ["light", "dark"])
      for (const size of sizes) {
        await page.emulateMedia({ colorScheme: scheme, reducedMotion: "reduce" });
        await page.setViewportSize(size);
        const called = `${name}-${scheme}-${size.width}x${size.height}`;
        try {
          await lookAt(page, picture, called);
          // Contrast goes with the look, what fits goes with the size: both are met by two of four.
          if ((scheme === "light") === (size === sizes[0])) await expectAccessible(page);
        } catch (error) {
          error.message = `${called}: ${error.message}`;
          throw error;
        }
      }
  },
});

async function look(page) {
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(500);
  await expectNoOverflow(page);
}

/** Every page and dialog in both looks at both sizes: accessible and inside its window; the pages
 * are pictured. */
export const looks = [
  ...Object.entries(pages).map(([name, open]) =>
    everyLook(name, open, async (page, picture, called) => {
      await look(page);
      await picture(called);
    }),
  ),
  ...Object.entries(dialogs).map(([name, open]) =>
    everyLook(`dialog ${name}`, open, async (page, picture, called) => {
      await look(page);
      const box = await page.getByRole("dialog").boundingBox();
      const window_ = page.viewportSize();
      expect(
        box.x >= 0 && box.x + box.width <= window_.width,
        `the dialog is ${box.width} px wide at ${box.x}`,
      );
      if (name === "cut again") await picture(called.replace("dialog cut again", "recut"));
    }),
  ),
];
