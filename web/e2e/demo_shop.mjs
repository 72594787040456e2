import { spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const patience = 120_000; // ms; the first start seeds the shop

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

/** Starts the program on its demo shop in a folder of its own; `stop` ends it and removes both.
 * `death()` says how the program ended and its last words when nobody asked it to end. */
export async function startDemoShop(program) {
  const folder = await mkdtemp(join(tmpdir(), "filmwright-e2e-"));
  const port = await freePort();
  const address = `http://127.0.0.1:${port}`;
  const server = spawn(
    program,
    ["serve", "--demo", "--data", join(folder, "shop"), "--port", String(port)],
    { stdio: ["ignore", "pipe", "pipe"] },
  );
  let said = "";
  let ended = false;
  let asked = false;
  let death;
  server.stdout.on("data", (bytes) => (said += bytes));
  server.stderr.on("data", (bytes) => (said += bytes));
  const end = new Promise((resolve) =>
    server.once("exit", (code, signal) => {
      ended = true;
      if (!asked)
        death = `the server ended by itself (${signal ?? `exit code ${code}`}):\n${said.slice(-2000)}`;
      resolve();
    }),
  );
  const stop = async () => {
    asked = true;
    if (!ended) server.kill("SIGTERM");
    await end;
    await rm(folder, { recursive: true, force: true });
  };

  for (const from = Date.now(); Date.now() - from < patience;) {
    if (ended) break;
    const answer = await fetch(`${address}/api/v1/jobs`).catch(() => undefined);
    if (answer?.ok) return { address, stop, death: () => death };
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  await stop();
  throw new Error(`the server did not come up at ${address}; it said:\n${said}`);
}
