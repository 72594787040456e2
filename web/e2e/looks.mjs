import { openPlan } from "./plan_story.mjs";
import { everythingIsReached } from "./reach.mjs";
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

/** What stands before the door; in the demo shop nobody needs a password, so it is told otherwise. */
async function signedOut(page, first_start) {
  await page.route("**/api/v1/session", (route) =>
    route.fulfill({ json: { demo: false, first_start } }),
  );
  await page.goto("/");
  await page.getByRole("textbox").first().waitFor();
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
  async shared(page) {
    const { jobs } = await (await page.request.get("/api/v1/jobs")).json();
    const links = `/api/v1/jobs/${encodeURIComponent(jobs.at(-1).id)}/links`;
    const { path } = await (await page.request.post(links, { data: {} })).json();
    await page.goto(path);
    await page.getByRole("heading", { level: 1, name: jobs.at(-1).title }).waitFor();
  },
  async sign_in(page) {
    await signedOut(page, false);
  },
  async first_start(page) {
    await signedOut(page, true);
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
    await page.getByRole("heading", { name: "What comes next" }).waitFor();
    await page.getByRole("heading", { name: "Links for the customer" }).waitFor();
  },
  async hand_over(page) {
    await openFirstJob(page, "handover");
    await page.getByRole("heading", { name: "Invoice and payments" }).waitFor();
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
    const { jobs } = await (await page.request.get("/api/v1/plan")).json();
    const { title } = jobs.find(({ tasks }) => tasks.some(({ state }) => state === "open"));
    const task = page.getByRole("button", { name: new RegExp(`^${title}: `) });
    await task.first().click();
    await page.getByRole("heading", { level: 2, name: new RegExp(`^${title}`) }).waitFor();
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

/** What opens over a page, page by page; each leaves it open and still. */
export const dialogs = {
  stock: {
    async "receive a roll"(page) {
      await page.getByRole("button", { name: "Receive a roll" }).click();
    },
    async "keep an offcut"(page) {
      await page.getByRole("button", { name: "Keep an offcut" }).click();
    },
    ...Object.fromEntries(
      ["Count", "Write off", "Weigh or measure", "Defects", "Ledger"].map((name) => [
        name.toLowerCase(),
        async (page) => {
          await page
            .getByRole("button", { name: /: Count…$/ })
            .first()
            .click();
          await page.getByRole("menuitem", { name, exact: true }).click();
        },
      ]),
    ),
    async "how a film is kept"(page) {
      await page.getByRole("button", { name: "Keep another film or width" }).click();
    },
  },
  job: {
    async "a move with its reason"(page) {
      await page.getByRole("button", { name: "Give the job up" }).click();
    },
    async "choose a customer"(page) {
      await page.getByRole("button", { name: /^(Choose a customer|Change customer)/ }).click();
    },
  },
  hand_over: {
    async "new invoice"(page) {
      await page.getByRole("button", { name: "New invoice" }).click();
      await page.getByLabel("Billed to").waitFor();
    },
    async "new payment"(page) {
      await page.getByRole("button", { name: "Record a payment" }).click();
    },
  },
  roll: {
    async "cut again"(page) {
      await page.getByRole("listbox").getByRole("option").first().click();
      await page.getByRole("button", { name: "Cut this piece again" }).click();
      await page.getByRole("dialog").getByRole("radio").last().waitFor();
    },
  },
  pieces: {
    async "from a photo"(page) {
      await page.getByRole("button", { name: "From a photo" }).click();
    },
  },
  plan: {
    async "plan question"(page) {
      await page.getByRole("button", { name: "At the counter" }).click();
    },
  },
  cards: {
    async "all cards"(page) {
      await page.getByRole("button", { name: /^All panels/ }).click();
    },
  },
};

const wide = { width: 1440, height: 900 };
const narrow = { width: 1024, height: 768 };

const looksOf = ["light", "dark"].flatMap((scheme) =>
  [wide, narrow].map((size) => ({ scheme, size })),
);

const wear = async (page, { scheme, size }) => {
  await page.emulateMedia({ colorScheme: scheme, reducedMotion: "reduce" });
  await page.setViewportSize(size);
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(400);
};

/** What stands on the page turns dark and narrow while it is open, as it does before a user. */
async function lookAt(page, called, more) {
  for (const look of looksOf) {
    const name = `${called}-${look.scheme}-${look.size.width}x${look.size.height}`;
    try {
      await wear(page, look);
      await expectNoOverflow(page);
      await more(name);
      // Contrast goes with the look, what fits goes with the size: both are met by two of four.
      if ((look.scheme === "light") === (look.size === wide)) await expectAccessible(page);
    } catch (error) {
      error.message = `${name}: ${error.message}`;
      throw error;
    }
  }
}

/** Every page and dialog in light and dark, wide and narrow: accessible, inside its window, and with
 * every action in the keyboard's reach; Escape closes a dialog. */
export const looks = [
  ...Object.entries(pages).map(([called, open]) => ({
    name: `page ${called}: looks and keyboard`,
    besideOthers: true,
    async run({ page, picture }) {
      await open(page);
      await lookAt(page, called, picture);
      await wear(page, { scheme: "light", size: wide });
      // What the customer sees is only read; a paper to open comes with an accepted quote.
      if (called !== "shared") await everythingIsReached(page);
    },
  })),
  ...Object.entries(dialogs).map(([on, all]) => ({
    name: `dialogs of page ${on}: looks and keyboard`,
    besideOthers: true,
    async run({ page, picture }) {
      await pages[on](page);
      const dialog = page.getByRole("dialog");
      for (const [called, open] of Object.entries(all)) {
        await wear(page, { scheme: "light", size: wide });
        await open(page);
        await lookAt(page, called, async (name) => {
          const box = await dialog.boundingBox();
          const { width } = page.viewportSize();
          expect(
            box.x >= 0 && box.x + box.width <= width,
            `the dialog is ${box.width} px wide at ${box.x}`,
          );
          if (called === "cut again") await picture(name.replace("cut again", "recut"));
        });
        await everythingIsReached(page);
        await page.keyboard.press("Escape");
        await dialog.waitFor({ state: "detached" });
      }
    },
  })),
];
