// Browser tests against the real program.
//
//   npm run e2e -- PROGRAM             start PROGRAM's demo shop in a temporary folder and test it
//   npm run e2e -- PROGRAM --pictures  also write a picture of every page to docs/pictures
//   npm run e2e -- --at ADDRESS        test a server that is already running
//   ... --only TEXT                    only the tests with TEXT in their name
//
// Debian's Chromium is used; FILMWRIGHT_CHROMIUM names another one.
import { openBrowser } from "./browser.mjs";
import { startDemoShop } from "./demo_shop.mjs";
import { cards } from "./cards.mjs";
import { counter } from "./counter.mjs";
import { keyboard } from "./keyboard.mjs";
import { looks } from "./looks.mjs";
import { planStory } from "./plan_story.mjs";
import { rollTable } from "./roll_table.mjs";
import { people } from "./people.mjs";
import { stock } from "./stock.mjs";
import { story } from "./story.mjs";
import { wholeStory } from "./whole_story.mjs";
import { withWatch } from "./watch.mjs";

const arguments_ = process.argv.slice(2);
const pictures = arguments_.includes("--pictures");
const after = (option) =>
  arguments_.includes(option) ? arguments_[arguments_.indexOf(option) + 1] : undefined;
const at = after("--at");
const only = after("--only") ?? "";
const program = at === undefined ? arguments_[0] : undefined;
if (at === undefined && (program === undefined || program.startsWith("--"))) {
  console.error("usage: npm run e2e -- PROGRAM [--pictures] | --at ADDRESS");
  process.exit(2);
}

const shop = program
  ? await startDemoShop(program)
  : { address: at, stop() {}, death: () => undefined };
const browser = await openBrowser();
let failed = 0;
try {
  const all = [
    ...story,
    ...rollTable,
    ...cards,
    ...counter,
    ...keyboard,
    ...wholeStory,
    ...planStory,
    ...people,
    ...stock,
    ...looks,
  ].filter(({ name }) => name.includes(only));
  const run = async (test) => {
    const started = Date.now();
    try {
      await withWatch(browser, shop.address, test, pictures);
      console.log(`ok      ${test.name} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
    } catch (error) {
      failed++;
      // The stack begins with the message as it first was.
      const where = error.stack?.match(/^ {4}at .*$/gm)?.join("\n") ?? "";
      console.log(`FAILED  ${test.name}\n${error.message ?? error}\n${where}`);
      // Nothing can pass without the program, and its last words would be lost among the rest.
      if (shop.death()) throw new Error(shop.death());
    }
  };
  // What changes the shop runs alone and in this order; what only looks at it, two at a time.
  for (const test of all.filter(({ besideOthers }) => !besideOthers)) await run(test);
  const others = all.filter(({ besideOthers }) => besideOthers);
  const worker = async () => {
    for (let test = others.shift(); test; test = others.shift()) await run(test);
  };
  await Promise.all([worker(), worker()]);
} finally {
  await browser.close();
  await shop.stop();
}
console.log(failed === 0 ? "All browser tests passed." : `${failed} browser tests failed.`);
process.exit(failed === 0 ? 0 : 1);
