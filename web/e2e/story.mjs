import { readFile } from "node:fs/promises";
import { expect, expectColoured } from "./watch.mjs";

const job = /\/jobs\/([^/]+)\//;

/** The vehicle is there and drawn: a press before that goes nowhere. */
export async function stageReady(page) {
  await page.locator("[data-orbit][data-ready=true] canvas").waitFor();
  for (let frames = 0; frames < 3; frames++) {
    await page.evaluate(() => new Promise((done) => requestIdleCallback(done, { timeout: 2000 })));
    await page.waitForTimeout(200);
  }
}

/** The number a figure shows, by its label: "46.7 ft" is 46.7. */
async function figure(page, label) {
  const value = page.locator("dl", { has: page.locator("dt", { hasText: label }) }).first();
  return Number.parseFloat((await value.locator("dd").innerText()).replace(",", ""));
}

/** From the front page to the cut file, as the shop does it. */
export const story = [
  {
    name: "from the bench: pick the hood, see its strain, lay out, plan the knife, take the file",
    async run({ page }) {
      await page.goto("/");
      await page.getByRole("article").first().getByRole("link").first().click();
      await page.waitForURL(job);

      await stageReady(page);
      await page.getByRole("option", { name: "Hood", exact: true }).click();
      await page.getByRole("heading", { level: 1, name: "Hood", exact: true }).waitFor();
      const map = page.getByRole("img", { name: /Flat piece of Hood/ });
      await map.waitFor();
      await expectColoured(map.locator("canvas").first(), 0.02);
      expect((await figure(page, "greatest stretch")) > 0, "the hood needs no stretch at all");

      // Pointing at the flat piece reads the strain there.
      const box = await map.boundingBox();
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.getByText(/^Here: greatest stretch/).waitFor();

      await page.getByRole("link", { name: "Pieces", exact: true }).click();
      const cards = page.getByRole("main").getByRole("button", { pressed: false });
      await cards.first().waitFor();
      const count = await figureFromHeading(page);
      expect(count >= 85 && count <= 110, `${count} pieces; about a hundred are expected`);

      await page.getByRole("link", { name: "Roll", exact: true }).click();
      await page.getByText("5 s", { exact: true }).click();
      await page.getByRole("button", { name: /^Lay out/ }).click();
      await page.getByRole("button", { name: "Stop and keep the best" }).waitFor();
      await page.getByText(/An independent check found no fault/).waitFor();
      const used = await figure(page, "film used");
      const waste = await figure(page, "waste");
      expect(used > 0 && waste > 0 && waste < 80, `film used ${used} ft, waste ${waste} %`);
      const laid = await page.getByRole("listbox").getByRole("option").count();
      expect(laid === (await figure(page, "pieces laid")), "the list and the figure differ");

      await page.getByRole("link", { name: "Knife", exact: true }).click();
      await page.getByRole("button", { name: /^Plan/ }).click();
      const order = page
        .getByRole("list")
        .filter({ has: page.getByRole("button") })
        .last();
      await order.getByRole("button").first().waitFor();
      expect((await figure(page, "contours")) >= laid, "fewer contours than pieces");

      const slider = page.getByRole("slider");
      await slider.focus();
      await slider.press("End");
      const [now, last] = await slider.evaluate((thumb) =>
        ["aria-valuenow", "aria-valuemax"].map((name) => Number(thumb.getAttribute(name))),
      );
      expect(last > 0 && now > 0.99 * last, `the replay stands at ${now} s of ${last} s`);

      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("link", { name: /HP-GL/ }).click(),
      ]);
      expect(download.suggestedFilename().endsWith(".plt"), download.suggestedFilename());
      const bytes = await readFile(await download.path(), "latin1");
      expect(/^\s*IN;/.test(bytes), "the file does not begin with HP-GL's IN;");
      expect((bytes.match(/PD/g) ?? []).length >= laid, "fewer knife-downs than pieces");
    },
  },
  {
    name: "film is received, counted and kept as an offcut",
    async run({ page }) {
      await page.goto("/");
      await page.getByRole("link", { name: "Film in stock" }).click();
      await page.getByRole("heading", { level: 1, name: "Film in stock" }).waitFor();
      await page.getByRole("button", { name: "Receive a roll" }).click();
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("combobox", { name: "Film" }).click();
      await page.getByRole("option").first().click();
      await dialog.getByLabel("Lot").fill("T-1");
      await dialog.getByRole("button", { name: "Save" }).click();
      const row = page.getByRole("listitem").filter({ hasText: "T-1" });
      await row.waitFor();

      await row.getByRole("button").click();
      await page.getByRole("menuitem", { name: "Count" }).click();
      await dialog.getByLabel("Length counted").fill("400");
      await dialog.getByLabel("Reason").fill("tape");
      await dialog.getByRole("button", { name: "Save" }).click();
      await row.getByText("33.3").waitFor(); // 400 in are 33.3 ft

      await row.getByRole("button").click();
      await page.getByRole("menuitem", { name: "Ledger" }).click();
      await dialog.getByRole("cell", { name: "counted" }).waitFor();
      await page.keyboard.press("Escape");

      await page.getByRole("button", { name: "Keep an offcut" }).click();
      await dialog.getByRole("combobox", { name: "Film" }).click();
      await page.getByRole("option").first().click();
      await dialog.getByLabel("Lot").fill("T-2");
      await dialog.getByRole("button", { name: "Save" }).click();
      await page.getByRole("listitem").filter({ hasText: "T-2" }).waitFor();
    },
  },
  {
    name: "a spoiled piece is cut again in less than half a minute",
    async run({ page }) {
      await withCut(page);
      await openFirstJob(page, "roll");
      const started = Date.now();
      await page.getByRole("listbox").getByRole("option").first().click();
      await page.getByRole("button", { name: "Cut this piece again" }).click();
      const dialog = page.getByRole("dialog");
      await dialog.getByText("Dirt under it").click();
      await dialog.getByRole("radio").last().waitFor();
      await dialog.getByRole("button", { name: "Cut it now" }).click();
      await dialog.getByText(/X-\d+ is booked/).waitFor();
      const seconds = (Date.now() - started) / 1000;
      expect(seconds < 30, `the recut took ${seconds} s`);
      console.log(`        from the piece picked to the film booked: ${seconds.toFixed(1)} s`);
    },
  },
  {
    name: "a panel is picked by pointing at the vehicle",
    async run({ page }) {
      await openFirstJob(page, "body");
      await stageReady(page);
      const stage = await page.locator("[data-orbit]").boundingBox();
      const picked = page.getByRole("option", { selected: true });
      for (let tries = 0; tries < 5 && (await picked.count()) === 0; tries++) {
        // On a busy machine a press may come while the picture is still being drawn.
        await page.mouse.click(stage.x + stage.width * 0.5, stage.y + stage.height * 0.52);
        await page.waitForTimeout(2000);
      }
      expect((await picked.count()) === 1, "pointing at the hood picks nothing");
    },
  },
  {
    name: "an edge is clicked, given an allowance and kept as a new version",
    async run({ page }) {
      await openFirstJob(page, "pieces", "?piece=intake_trim_left");
      await page.getByRole("heading", { level: 2, name: "Intake trim left" }).waitFor();
      const stretch = page.locator("[data-open]").first();
      const before = await page.locator("[class*=cutLine]").last().getAttribute("d");
      await stretch.dispatchEvent("click");
      await page.getByLabel(/^Allowance \(/).fill("0.8");
      await page.getByText(/The tuck bunches by/).waitFor();
      const after = await page.locator("[class*=cutLine]").last().getAttribute("d");
      expect(before !== after, "the drawing did not change");
      await page.getByLabel(/What was changed/).fill("a wider tuck");
      await page.getByRole("button", { name: "Use in this job" }).click();
      await page.getByText("Its pieces were prepared by hand.").waitFor();

      await openFirstJob(page, "pieces", "?piece=intake_trim_right");
      await page.getByText(/It follows Intake trim left/).waitFor();
      await openFirstJob(page, "pieces");
      await page.getByText("a wider tuck").waitFor();
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("link", { name: "Export for another shop" }).click(),
      ]);
      await page.locator("input[type=file]").setInputFiles(await download.path());
      await page.getByText("All of it was here already.").waitFor();
    },
  },
  {
    name: "the whole way goes by keyboard alone",
    async run({ page }) {
      await openFirstJob(page, "body");
      await page.getByRole("option").first().waitFor();
      await page.getByRole("listbox").focus();
      await page.keyboard.press("ArrowDown");
      await page.getByRole("option", { selected: true }).waitFor();
      const first = await page.getByRole("heading", { level: 1 }).innerText();
      await page.keyboard.press("ArrowDown");
      await page.waitForFunction(
        (before) => document.querySelector("h1")?.innerText !== before,
        first,
      );
      await stageReady(page);
      await page.getByRole("application").focus();
      await page.keyboard.press("ArrowLeft");
      await tabTo(page, page.getByRole("link", { name: "Roll", exact: true }));
      await page.keyboard.press("Enter");
      await tabTo(page, page.getByRole("button", { name: /^Lay out/ }));
      await page.keyboard.press("Enter");
      const stop = page.getByRole("button", { name: "Stop and keep the best" });
      await stop.waitFor();
      await page.waitForTimeout(1500);
      await tabTo(page, stop);
      await page.keyboard.press("Enter");
      await page.getByText(/An independent check found no fault/).waitFor();
    },
  },
  {
    name: "a search is found again after going elsewhere and after a reload",
    async run({ page }) {
      await openFirstJob(page, "roll");
      await page.getByRole("button", { name: /^Lay out/ }).click();
      const stop = page.getByRole("button", { name: "Stop and keep the best" });
      await stop.waitFor();
      await page.getByRole("link", { name: "Pieces", exact: true }).click();
      await page.getByRole("link", { name: "Roll", exact: true }).click();
      await stop.waitFor();
      await page.reload();
      await stop.click();
      await page.getByText(/An independent check found no fault/).waitFor();
    },
  },
  {
    name: "inches or millimetres, English or German, light or dark are kept",
    async run({ page }) {
      await page.goto("/");
      await page.getByText("mm", { exact: true }).click();
      await page.getByRole("button", { name: "Language" }).click();
      await page.getByRole("menuitem", { name: "Deutsch" }).click();
      await page.getByRole("heading", { name: "Aufträge" }).waitFor();
      await page.getByRole("button", { name: "Dunkel schalten" }).click();
      await page.reload();
      await page.getByRole("heading", { name: "Aufträge" }).waitFor();
      await page
        .getByText(/\d,\d\d\sm$/)
        .first()
        .waitFor();
      const scheme = await page.evaluate(() => document.documentElement.dataset.mantineColorScheme);
      expect(scheme === "dark", `the page came back ${scheme}`);
    },
  },
  {
    name: "without the server the page says what to do",
    async run({ page, faults }) {
      await page.route("**/api/**", (route) => route.abort("connectionrefused"));
      await page.goto("/");
      const alert = page.getByRole("alert");
      await alert.waitFor();
      expect(/still running/.test(await alert.innerText()), await alert.innerText());
      faults.length = 0; // the refused connections are what was asked for
    },
  },
  {
    name: "the first page's scripts stay under 350 kB gzipped, without 3D",
    async run({ page }) {
      await page.goto("/", { waitUntil: "networkidle" });
      const scripts = await page.evaluate(() =>
        performance
          .getEntriesByType("resource")
          .filter(({ name }) => name.endsWith(".js"))
          .map(({ name, encodedBodySize }) => ({ name, encodedBodySize })),
      );
      const sum = scripts.reduce((bytes, { encodedBodySize }) => bytes + encodedBodySize, 0);
      expect(scripts.length > 0 && sum > 0, "no script was counted");
      expect(sum < 350_000, `${sum} bytes of script`);
      expect(!scripts.some(({ name }) => /stage/.test(name)), "3D came with the first page");
    },
  },
];

/** The number that the page's heading begins with, once it is known. */
async function figureFromHeading(page) {
  const heading = page.getByRole("heading", { level: 1, name: /^\d/ });
  await heading.waitFor();
  return Number.parseInt(await heading.innerText(), 10);
}

/** The demo shop's own job; those that tests opened are newer and come before it. */
export async function openFirstJob(page, step, query = "") {
  const answer = await page.request.get("/api/v1/jobs");
  const { jobs } = await answer.json();
  await page.goto(`/jobs/${encodeURIComponent(jobs.at(-1).id)}/${step}${query}`);
}

/** Sees to it that the first job has a layout and a knife path of its main film. */
export async function withCut(page) {
  const job = (await (await page.request.get("/api/v1/jobs")).json()).jobs.at(-1);
  const entry = job.films.find(({ film }) => film === job.film);
  const at = `/api/v1/jobs/${encodeURIComponent(job.id)}`;
  const ask = async (address, data) => {
    const answer = await page.request.post(address, { data });
    expect(answer.ok(), `${address}: ${await answer.text()}`);
    return answer.json();
  };
  if (!entry.has_layout) {
    const { id } = await ask(`${at}/layout`, { film: job.film, seconds: 5 });
    for (let state = "running"; state === "running" || state === "stopping";) {
      await page.waitForTimeout(500);
      ({ state } = await (await page.request.get(`/api/v1/tasks/${id}`)).json());
    }
  }
  if (!entry.has_cut) {
    const { profiles } = await (await page.request.get("/api/v1/profiles")).json();
    await ask(`${at}/cut`, { film: job.film, profile: profiles[0].id });
  }
}

/** Presses Tab until the element has the focus. */
async function tabTo(page, element) {
  await element.and(page.locator(":not([disabled])")).waitFor();
  for (let presses = 0; presses < 200; presses++) {
    if (await element.evaluate((node) => node === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reaches ${element}`);
}
