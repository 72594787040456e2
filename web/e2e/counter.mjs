import { readFile } from "node:fs/promises";
import { stageReady } from "./story.mjs";
import { expect } from "./watch.mjs";

const covered = async (page) =>
  Number(
    await page
      .locator("dl", { has: page.locator("dt", { hasText: "surfaces" }) })
      .locator("dd")
      .innerText(),
  );

export const counter = [
  {
    name: "at the counter surfaces are clicked and swept over, price and film follow, the job opens",
    async run({ page }) {
      await page.goto("/counter");
      await stageReady(page);
      const stage = await page.locator("[data-orbit]").boundingBox();
      const at = (x, y) => [stage.x + stage.width * x, stage.y + stage.height * y];
      await page.mouse.click(...at(0.4, 0.55));
      await page.getByText(/^Laying takes/).waitFor();
      expect((await covered(page)) === 1, "a click did not cover one surface");
      await page.mouse.click(...at(0.4, 0.55));
      await page.waitForFunction(() => !document.body.innerText.includes("Laying takes"));

      await page.getByText("Choose", { exact: true }).click();
      await page.mouse.move(...at(0.3, 0.52));
      await page.mouse.down();
      for (let step = 0; step <= 30; step++) await page.mouse.move(...at(0.3 + step * 0.015, 0.54));
      await page.mouse.up();
      await page.getByText(/^Laying takes/).waitFor();
      expect((await covered(page)) >= 3, `only ${await covered(page)} surfaces were swept over`);

      await page.getByRole("button", { name: "Undo" }).click();
      await page.getByRole("button", { name: "Nothing", exact: true }).click();
      await page.getByRole("button", { name: "Whole zone: Front" }).click();
      await page.getByLabel("Name of the job").fill("Full front");
      await page.getByRole("button", { name: "Open the job" }).click();
      await page.waitForURL(/\/jobs\/[^/]+\/body/);
      await page.getByText("Full front").first().waitFor();
    },
  },
  {
    name: "a surface is covered by keyboard alone, and film that does not suit is refused in words",
    async run({ page }) {
      await page.goto("/counter");
      await page.getByRole("button", { name: /^Hood/ }).focus();
      await page.keyboard.press("Enter");
      await page.getByRole("button", { name: /^Hood Dandelion Clear/, pressed: true }).waitFor();
      await page.getByRole("radio", { name: "Owlet 20" }).focus();
      await page.keyboard.press("Enter");
      await page.getByRole("button", { name: /^Hood/ }).focus();
      await page.keyboard.press("Enter");
      await page.getByText("Owlet 20 does not suit Hood.").waitFor();
    },
  },
  {
    name: "two choices are set side by side and go to the customer as a quote with its PDF and as a link",
    async run({ page }) {
      await page.goto("/counter");
      await stageReady(page);
      await page.getByRole("button", { name: /^Hood / }).click();
      await page.getByText(/^Laying takes/).waitFor();
      await page.getByRole("button", { name: "Set beside as an alternative" }).click();
      const beside = page.getByRole("list", { name: "Alternatives" });
      await page.getByRole("button", { name: "Whole zone: Front" }).click();
      await page.waitForFunction(() => !document.querySelector("[aria-busy=true]"));
      const money = async (place) => Number((await place.innerText()).replace(/[^0-9]/g, ""));
      const one = await money(beside.locator("b").first());
      const other = await money(
        page.locator("dl", { has: page.locator("dt", { hasText: "price" }) }).locator("dd"),
      );
      expect(one > 0 && other > one, `the hood costs ${one}, the whole front ${other}`);
      await page.getByRole("button", { name: "Send as a quote" }).click();
      await page.getByText(/^Quote Q-\d+ is sent/).waitFor();
      const paper = await page.getByRole("link", { name: "Its PDF" }).getAttribute("href");
      const pdf = await (await page.request.get(paper)).body();
      expect(pdf.subarray(0, 5).toString() === "%PDF-", "the quote's paper is no PDF");
      await beside.getByRole("button", { pressed: false }).first().click();
      expect((await covered(page)) === 1, "the alternative did not come back");

      await page.getByRole("button", { name: "Share link" }).click();
      const link = await page.getByLabel(/^Link for the customer/).inputValue();
      await page.getByLabel(/^Link for the customer/).waitFor();
      await page.goto(link);
      await page.getByText("Hood").first().waitFor();
    },
  },
  {
    name: "everything is found from the keyboard: a job, a page, the roll of a lot",
    async run({ page }) {
      await page.goto("/counter");
      await page.getByRole("heading", { level: 1, name: "Counter" }).waitFor();
      await page.keyboard.press("Control+k");
      await page.keyboard.type("DC-0417");
      await page
        .getByRole("option", { name: /DC-0417/ })
        .first()
        .waitFor();
      await page.getByRole("combobox", { name: /^Job, page/ }).fill("whole car");
      await page.getByRole("option", { selected: true, name: /Whole car/ }).waitFor();
      await page.keyboard.press("Enter");
      await page.waitForURL(/\/jobs\/[^/]+\/body/);
      await page.keyboard.press("Control+k");
      await page.getByRole("combobox", { name: /^Job, page/ }).waitFor();
      await page.keyboard.type("bench");
      await page.keyboard.press("Enter");
      await page.getByRole("heading", { name: "Today" }).waitFor();
    },
  },
  {
    name: "views are taken as pictures: the roll as SVG, the vehicle as PNG",
    async run({ page }) {
      await page.goto("/counter");
      await stageReady(page);
      await page.waitForTimeout(500);
      const take = async (form) => {
        await page.getByRole("button", { name: "Take this view as a picture" }).first().click();
        const [download] = await Promise.all([
          page.waitForEvent("download"),
          page.getByRole("menuitem", { name: form, exact: true }).click(),
        ]);
        return readFile(await download.path());
      };
      const png = await take("PNG");
      expect(png.subarray(1, 4).toString() === "PNG", "no PNG");
      expect(png.length > 20_000, `the picture of the vehicle has only ${png.length} bytes`);
      const [job] = (await (await page.request.get("/api/v1/jobs")).json()).jobs;
      await page.goto(`/jobs/${encodeURIComponent(job.id)}/card`);
      await page.getByRole("img", { name: /^Piece for/ }).waitFor();
      const svg = (await take("SVG")).toString();
      expect(svg.startsWith("<svg") && svg.includes("stroke:"), "the SVG carries no styles");
    },
  },
];
