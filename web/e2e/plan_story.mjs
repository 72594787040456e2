import { withCut } from "./story.mjs";
import { expect, expectAccessible, expectNoOverflow } from "./watch.mjs";

/** The plan as the page has it. */
const plan = async (page) => (await page.request.get("/api/v1/plan")).json();

const post = async (page, path, data) => {
  const answer = await page.request.post(`/api/v1/plan/${path}`, { data });
  const body = await answer.json();
  expect(answer.ok(), `${path}: ${JSON.stringify(body)}`);
  return body;
};

const clock = (page, time) => post(page, "clock", { time });

export async function openPlan(page) {
  await page.goto("/plan");
  await page.locator("[data-board]").waitFor();
}

/** A day and a half in the demo shop, as docs/guides/plan.md tells it. */
export const planStory = [
  {
    name: "plan: a rush comes in, something slips, edges are tucked again, no other promise breaks",
    async run({ page, picture }) {
      await clock(page, "2031-05-05T07:30");
      await openPlan(page);
      await page.getByText(/every promise holds/).waitFor();
      await picture("plan-monday");

      // A visitor wants the sports car on Wednesday evening.
      await page.getByRole("button", { name: "At the counter" }).click();
      const dialog = page.getByRole("dialog");
      await dialog.getByLabel("Name of the vehicle").fill("Amber roadster");
      await dialog.getByLabel("Hours of body film").fill("14");
      await dialog.getByLabel("Wanted by").fill("2031-05-07T17:00");
      await dialog.getByRole("button", { name: "Earliest promise" }).click();
      await dialog.getByText(/kept nine times in ten/).waitFor();
      await dialog.getByRole("button", { name: "Does it fit by then?" }).click();
      await dialog.getByText(/^(Yes, and every|No, it cannot|No plan was found)/).waitFor();
      await dialog.getByRole("button", { name: "What if it goes first?" }).click();
      await dialog
        .getByText(/^(Yes, when it goes before|No, it cannot|No plan was found)/)
        .waitFor();
      await page.waitForTimeout(400);
      await picture("plan-rush");
      await dialog.getByRole("button", { name: "Book it" }).click();
      await dialog.waitFor({ state: "detached" });
      const booked = (await plan(page)).jobs.find(({ title }) => title === "Amber roadster");
      expect(booked?.end, "the rush has no place");

      // Work goes as planned until Tuesday afternoon.
      await work(page, "2031-05-06T14:40");
      const before = await plan(page);
      const done = before.jobs
        .flatMap((job) => job.tasks.map((task) => ({ job, task })))
        .filter(({ task }) => task.state === "finished" && /^(lay film|tuck edges)/.test(task.id));
      expect(done.length > 0, "no film was laid by Tuesday afternoon");
      const [{ job, task }] = done.sort((a, b) => a.task.work_minutes - b.task.work_minutes);
      const after = await post(page, "reports", { what: "redone", job: job.id, task: task.id });
      const again = after.jobs
        .find(({ id }) => id === job.id)
        .tasks.find(({ id }) => id === `${task.id}, 2`);
      expect(again?.from, "the work is not planned again");
      const broken = after.jobs.filter(
        ({ id, kept }) => id !== job.id && !kept && before.jobs.find((one) => one.id === id)?.kept,
      );
      expect(broken.length === 0, `newly broken: ${broken.map(({ title }) => title).join()}`);
      const moved = movedTasks(before, after, job.id);
      console.log(`        ${moved.count} of ${moved.of} tasks of other vehicles moved`);

      await openPlan(page);
      await page
        .getByRole("button", { name: new RegExp(`${job.title}: ${task.id}, 2`) })
        .first()
        .focus();
      await page.keyboard.press("Enter");
      await page.getByRole("heading", { level: 2, name: `${job.title}: ${task.id}, 2` }).waitFor();
      await picture("plan-spoiled");
    },
  },
  {
    name: "plan: a vehicle is dragged, the server answers at once, and it is moved by typing too",
    async run({ page, picture }) {
      await openPlan(page);
      const before = await plan(page);
      const open = before.jobs.find(({ tasks }) => tasks.every(({ state }) => state === "open"));
      const stay = page.getByRole("button", { name: new RegExp(`^${open.title} in `) }).first();
      const answers = [];
      page.on("response", async (response) => {
        if (response.url().endsWith("/plan/moves")) answers.push(response.request().timing());
      });
      const box = await stay.boundingBox();
      await page.mouse.move(box.x + 6, box.y + 8);
      await page.mouse.down();
      await page.mouse.move(box.x + 60, box.y + 10, { steps: 4 });
      await page.mouse.move(box.x + 120, box.y + 8, { steps: 4 });
      await page
        .getByText(/^It can(not)? be there/)
        .first()
        .waitFor();
      await page.waitForTimeout(300);
      await picture("plan-drag");
      await page.keyboard.press("Escape");
      await page.mouse.up();
      expect((await plan(page)).version === before.version, "giving up changed the plan");

      await stay.focus();
      await page.keyboard.press("Enter");
      await page.getByLabel("Move to").fill(`${open.stays[0].from.slice(0, 8)}20T08:00`);
      await page.getByRole("button", { name: "What if" }).click();
      await page.getByText(/^It can be there/).waitFor();
      await page.getByRole("button", { name: "Move it" }).click();
      await page.waitForFunction(
        async (version) => (await (await fetch("/api/v1/plan")).json()).version > version,
        before.version,
      );
      const after = await plan(page);
      const first = after.jobs.find(({ id }) => id === open.id).tasks.map(({ from }) => from);
      expect(
        first.every((from) => from >= `${open.stays[0].from.slice(0, 8)}20`),
        "not moved",
      );
    },
  },
  {
    name: "plan: a piece cut again is laid again in the plan, and the page says what that moves",
    async run({ page, picture }) {
      await withCut(page);
      const jobs = (await (await page.request.get("/api/v1/jobs")).json()).jobs;
      const car = (await plan(page)).jobs.find(({ id }) => jobs.some((job) => job.id === id));
      const front = async () =>
        (await plan(page)).jobs
          .find(({ id }) => id === car.id)
          .tasks.find(({ id }) => id === "lay film front");
      // Reports along the way may move it.
      for (let k = 0; k < 8 && (await front()).state !== "finished"; k++) {
        await work(page, (await front()).until);
      }
      expect((await front()).state === "finished", "the front is not laid");
      const before = await plan(page);

      await page.goto(`/jobs/${encodeURIComponent(car.id)}/roll`);
      await page
        .getByRole("listbox")
        .getByRole("option", { name: /^Hood / })
        .click();
      await page.getByRole("button", { name: "Cut this piece again" }).click();
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("button", { name: "Cut it now" }).click();
      await dialog.getByText(/^In the plan again: lay film front, 2/).waitFor();
      await page.waitForTimeout(300);
      await picture("plan-recut");
      const after = await plan(page);
      const again = after.jobs
        .find(({ id }) => id === car.id)
        .tasks.find(({ id }) => id === "lay film front, 2");
      expect(again?.from, "the piece has no place in the plan");
      const moved = movedTasks(before, after, car.id);
      console.log(`        ${moved.count} of ${moved.of} tasks of other vehicles moved`);
      expect(moved.count * 10 <= moved.of, `${moved.count} of ${moved.of} tasks moved`);

      await dialog.getByRole("link", { name: "Open the plan" }).click();
      await page.locator("[data-board]").waitFor();
    },
  },
  {
    name: "plan: hours, a day off and the way of working are changed, and the plan follows",
    async run({ page }) {
      await openPlan(page);
      const before = await plan(page);
      await page.getByRole("link", { name: "People and bays" }).click();
      await page.getByRole("heading", { level: 1, name: "People and bays" }).waitFor();
      const ysa = page.getByRole("group", { name: "Ysa Marling" });
      const save = page.getByRole("button", { name: "Save and plan anew" });
      await ysa.getByLabel("Friday").fill("morning");
      await page.getByText(/^Some hours cannot be read/).waitFor();
      expect(await save.isDisabled(), "hours that cannot be read could be saved");
      await ysa.getByLabel("Friday").fill("8-12, 12:45-15");
      await page.getByLabel("Date", { exact: true }).fill("2031-05-29");
      await page.getByRole("button", { name: "Add the day" }).click();
      const title = page.locator("summary", { hasText: "take photos" });
      await title.click();
      const photos = page.locator("details", { has: title });
      await photos.getByLabel("Fixed hours").fill("0.5");
      await expectAccessible(page);
      await save.click();
      await page.getByText("Saved; the plan is made anew.").waitFor();
      const after = await plan(page);
      expect(after.version > before.version, "the plan was not made anew");
      const hours = after.people.find(({ id }) => id === "Ysa Marling").hours;
      const friday = hours.filter(({ from }) => from.startsWith("2031-05-23"));
      expect(
        friday.map(({ from, until }) => `${from.slice(11)}-${until.slice(11)}`).join() ===
          "08:00-12:00,12:45-15:00",
        `Friday is ${JSON.stringify(friday)}`,
      );
      expect(
        after.people.every((one) => one.hours.every(({ from }) => !from.startsWith("2031-05-29"))),
        "somebody works on the day off",
      );
      const { workplace } = await (await page.request.get("/api/v1/plan/workplace")).json();
      const kept = workplace.templates.tasks.find(({ id }) => id === "take photos");
      expect(kept.hours === 0.5, "the way of working was not kept");
    },
  },
  {
    name: "plan: people and bays in German",
    locale: "de-DE",
    async run({ page }) {
      await page.goto("/plan/workplace");
      await page.getByRole("heading", { level: 1, name: "Leute und Plätze" }).waitFor();
      await page.getByRole("group", { name: "Ysa Marling" }).getByLabel("Freitag").waitFor();
      await expectAccessible(page);
      await expectNoOverflow(page);
    },
  },
];

/** Everything is begun and ended when the plan has it, and reported at once, up to `until`. */
async function work(page, until) {
  for (let k = 0; k < 400; k++) {
    const now = await plan(page);
    const [next] = now.jobs
      .flatMap((job) => job.tasks.map((task) => ({ job, task })))
      .filter(({ task }) => task.state !== "finished" && task.hands > 0)
      .map(({ job, task }) =>
        task.state === "begun"
          ? { job, task, what: "finished", at: task.until }
          : { job, task, what: "started", at: task.from },
      )
      .filter(({ at }) => at <= until)
      .sort((a, b) => a.at.localeCompare(b.at) || a.what.localeCompare(b.what));
    if (!next) break;
    if (next.at > now.now) await clock(page, next.at);
    await post(page, "reports", { what: next.what, job: next.job.id, task: next.task.id });
  }
  await clock(page, until);
}

/** Open tasks of other jobs that stand elsewhere. */
function movedTasks(before, after, except) {
  let count = 0;
  let of = 0;
  for (const job of before.jobs.filter(({ id }) => id !== except)) {
    const now = after.jobs.find(({ id }) => id === job.id);
    for (const task of job.tasks.filter(({ state }) => state === "open")) {
      const other = now?.tasks.find(({ id }) => id === task.id);
      of++;
      if (other?.from !== task.from || other?.people.join() !== task.people.join()) count++;
    }
  }
  return { count, of };
}
