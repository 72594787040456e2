import { expect, it, vi } from "vitest";
import { followTask } from "./task_events";

function fakeSource() {
  const heard = new Map<string, (event: Event) => void>();
  return {
    readyState: 1,
    closed: false,
    addEventListener(name: string, hear: (event: Event) => void) {
      heard.set(name, hear);
    },
    close() {
      this.closed = true;
    },
    say(name: string, value: unknown) {
      heard.get(name)?.(new MessageEvent(name, { data: JSON.stringify(value) }));
    },
  };
}

const listener = () => ({
  onProgress: vi.fn(),
  onLayout: vi.fn(),
  onEnd: vi.fn(),
  onLost: vi.fn(),
});

it("hands on progress and layouts, and closes after the end", () => {
  const source = fakeSource();
  const hear = listener();
  followTask("t 1", hear, (address) => {
    expect(address).toBe("/api/v1/tasks/t%201/events");
    return source as unknown as EventSource;
  });
  source.say("progress", { stage: "search", fraction: 0.5, seconds: 2 });
  source.say("layout", { length_mm: 9000 });
  expect(hear.onProgress).toHaveBeenCalledWith({ stage: "search", fraction: 0.5, seconds: 2 });
  expect(hear.onLayout).toHaveBeenCalledWith({ length_mm: 9000 });
  expect(source.closed).toBe(false);
  source.say("failed", { id: "t 1", state: "failed" });
  expect(hear.onEnd).toHaveBeenCalledOnce();
  expect(source.closed).toBe(true);
});

it("reports a lost stream only when the browser has given up", () => {
  const source = fakeSource();
  const hear = listener();
  followTask("t", hear, () => source as unknown as EventSource);
  source.readyState = 0;
  source.say("error", null);
  expect(hear.onLost).not.toHaveBeenCalled();
  source.readyState = 2;
  source.say("error", null);
  expect(hear.onLost).toHaveBeenCalledOnce();
});
