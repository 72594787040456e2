import { expect } from "./watch.mjs";

/** Sees to it that a job of a few panels is released, and says which. */
export async function withReleased(page) {
  const ask = async (method, address, data) => {
    const answer = await page.request[method](address, data && { data });
    expect(answer.ok(), `${address}: ${await answer.text()}`);
    return answer.json();
  };
  const { jobs } = await ask("get", "/api/v1/jobs");
  const fit = jobs.find(
    ({ state, scope }) => ["released", "installing"].includes(state) && scope.length > 20,
  );
  if (fit) return fit.id;
  const [first] = jobs;
  const at = `/api/v1/jobs/${encodeURIComponent(first.id)}`;
  const { profiles } = await ask("get", "/api/v1/profiles");
  for (const { film, has_layout, has_cut } of first.films) {
    if (!has_layout) {
      const { id } = await ask("post", `${at}/layout`, { film, seconds: 1 });
      for (let state = "running"; state === "running" || state === "stopping";) {
        await page.waitForTimeout(300);
        ({ state } = await ask("get", `/api/v1/tasks/${id}`));
      }
    }
    if (!has_cut) await ask("post", `${at}/cut`, { film, profile: profiles[0].id });
  }
  const job = await ask("get", at);
  await ask("post", `${at}/state`, { to: "released", revision: job.revision });
  return first.id;
}

export const cardsOf = async (page, job) =>
  (await (await page.request.get(`/api/v1/jobs/${encodeURIComponent(job)}/cards`)).json()).lines;

const reportsIn = (lines) => lines.flatMap(({ on }) => on.map(({ event }) => event));

export const cutSeconds = Number(process.env.FILMWRIGHT_CUT_SECONDS ?? 15);

export const cards = [
  {
    name: `ten cards are ticked while the network is gone for ${cutSeconds} s: all there afterwards, once`,
    lostNetwork: true,
    async run({ page }) {
      const job = await withReleased(page);
      await page.goto(`/jobs/${encodeURIComponent(job)}/card`);
      await page.getByRole("img", { name: /^Piece for/ }).waitFor();
      // Every card has been fetched once, and the worker holds the page.
      const path = `/api/v1/jobs/${encodeURIComponent(job)}/cards`;
      const panels = (await cardsOf(page, job)).map(({ panel }) => panel);
      const isKept = () =>
        page.evaluate(
          async ([address, all]) => {
            await navigator.serviceWorker.ready;
            const cache = await caches.open("filmwright-job-1");
            const kept = await Promise.all(all.map((panel) => cache.match(`${address}/${panel}`)));
            return kept.every(Boolean);
          },
          [path, panels],
        );
      while (!(await isKept())) await page.waitForTimeout(500);
      const before = reportsIn(await cardsOf(page, job));

      await page.context().setOffline(true);
      const cut = Date.now();
      for (let card = 0; card < 10; card++) {
        const panel = await page.getByRole("heading", { level: 1 }).innerText();
        await page.getByRole("img", { name: `Piece for ${panel} with` }).waitFor();
        await page.getByRole("button", { name: "Laid", exact: true }).click();
        await page.waitForFunction((old) => document.querySelector("h1")?.innerText !== old, panel);
      }
      await page.getByText("10 reports wait for the network").waitFor();
      await page.reload(); // from the worker's cache
      await page.getByText("10 reports wait for the network").waitFor();
      await page.waitForTimeout(Math.max(0, 1000 * cutSeconds - (Date.now() - cut)));

      // The first answer is lost on its way: the report is sent again.
      let lose = true;
      await page.context().route("**/card-events", async (route) => {
        if (!lose) return route.continue();
        lose = false;
        await route.fetch();
        await route.abort("connectionreset");
      });
      await page.context().setOffline(false);
      await page.getByText("All reports sent").waitFor();
      const lines = await cardsOf(page, job);
      const added = reportsIn(lines).filter((event) => !before.includes(event));
      expect(added.length === 10, `${added.length} pieces were taken down, not 10`);
      expect(
        lines.every(({ on }) => on.length <= 1),
        "a piece was taken down twice",
      );
    },
  },
  {
    name: "a spoiled piece: recut asked for with a reason, then laid again; a note stays",
    async run({ page }) {
      const job = await withReleased(page);
      const panel = (await cardsOf(page, job)).find(({ on }) => on.length === 0).panel;
      await page.goto(`/jobs/${encodeURIComponent(job)}/card?panel=${panel}`);
      await page.getByRole("button", { name: "Laid", exact: true }).click();
      await page.getByText("All reports sent").waitFor();
      await page.goto(`/jobs/${encodeURIComponent(job)}/card?panel=${panel}`);
      await page.getByRole("button", { name: "Recut" }).click();
      await page.getByRole("combobox", { name: "Why" }).click();
      await page.getByRole("option", { name: "Creased" }).click();
      await page.getByRole("button", { name: "Ask for a recut" }).click();
      await page.getByText("recut wanted", { exact: true }).waitFor();
      await page.getByRole("button", { name: "Note", exact: true }).click();
      await page.getByLabel("In words").fill("lower corner needs more heat");
      await page.getByRole("button", { name: "Keep the note" }).click();
      await page.getByText("lower corner needs more heat").waitFor();
      await page.getByText("All reports sent").waitFor();
      await page.waitForTimeout(1100); // the second piece is laid later than the wish
      await page.getByRole("button", { name: "Laid", exact: true }).click();
      await page.getByText("All reports sent").waitFor();
      const line = (await cardsOf(page, job)).find((one) => one.panel === panel);
      expect(line.on.length === 1, "the piece that came off is still on the card");
      expect(
        ["recut", "note"].every((word) => line.said.some((one) => one.word === word)),
        "a word got lost",
      );
    },
  },
  {
    name: "a wait runs on when another card is looked at, and every target is 44 px",
    viewport: { width: 1024, height: 768 },
    async run({ page }) {
      const job = await withReleased(page);
      await page.goto(`/jobs/${encodeURIComponent(job)}/card`);
      await page.getByRole("button", { name: /Dry before the tuck/ }).click();
      const wait = page.getByRole("button", { name: /: Dry before the tuck (29|30):\d\d$/ });
      await wait.waitFor();
      await page.getByRole("button", { name: "Next", exact: true }).click();
      await wait.waitFor();
      const small = await page.getByRole("main").evaluate((main) =>
        [...main.querySelectorAll("button, input:not([type=file])")]
          .map((element) => ({ name: element.textContent, box: element.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
          .map(({ name, box }) => `${name} ${box.width}x${box.height}`),
      );
      expect(small.length === 0, `too small to hit: ${small.join(", ")}`);
      await wait.click();
    },
  },
];
