import { expect, it } from "vitest";
import { type Outbox, type Report, sendAll, type Sent } from "./outbox";

function inMemory(reports: Report[]): Outbox & { kept: Report[] } {
  const box = {
    kept: reports,
    all: () => Promise.resolve([...box.kept]),
    put: (report: Report) => {
      const at = box.kept.findIndex(({ id }) => id === report.id);
      if (at < 0) box.kept.push(report);
      else box.kept[at] = report;
      return Promise.resolve();
    },
    remove: (id: string) => {
      box.kept = box.kept.filter((report) => report.id !== id);
      return Promise.resolve();
    },
  };
  return box;
}

const report = (id: string): Report => ({
  id,
  job: "J",
  panel: "hood",
  word: "laid",
  at: "2031-05-04T10:00:00Z",
});

/** A server that takes each id once; of the answers to some the network loses the first. */
function server(lost: readonly string[]) {
  const taken = new Map<string, number>();
  const losing = new Set(lost);
  const send = (sent: Report): Promise<Sent> => {
    taken.set(sent.id, (taken.get(sent.id) ?? 0) + 1);
    return Promise.resolve(losing.delete(sent.id) ? "unreachable" : "taken");
  };
  return { taken, send };
}

it("sends everything in order, and again what got no answer, under the same id", async () => {
  const outbox = inMemory(["one", "two", "three"].map(report));
  const { taken, send } = server(["two"]);
  expect(await sendAll(outbox, send)).toBe(false);
  expect(outbox.kept.map(({ id }) => id)).toEqual(["two", "three"]);
  expect(await sendAll(outbox, send)).toBe(true);
  expect(outbox.kept).toEqual([]);
  expect([...taken]).toEqual([
    ["one", 1],
    ["two", 2],
    ["three", 1],
  ]);
});

it("keeps what was refused, with the reason, and goes on with the rest", async () => {
  const outbox = inMemory(["one", "two"].map(report));
  const send = (sent: Report): Promise<Sent> =>
    Promise.resolve(sent.id === "one" ? { refused: "not released" } : "taken");
  expect(await sendAll(outbox, send)).toBe(true);
  expect(outbox.kept).toEqual([{ ...report("one"), refused: "not released" }]);
  expect(await sendAll(outbox, () => Promise.reject(new Error("not asked again")))).toBe(true);
});
