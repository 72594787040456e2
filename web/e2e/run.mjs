import { existsSync } from "node:fs";

const [program] = process.argv.slice(2);
if (!program || !existsSync(program)) {
  console.error("usage: npm run e2e -- PATH_TO_FILMWRIGHT");
  process.exit(2);
}
console.error("e2e: no browser test is written yet");
process.exit(1);
