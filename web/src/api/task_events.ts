import type { LiveLayout, RunProgress, Task, TaskProgress } from "./client";
import { taskEventsAddress } from "./client";

export interface TaskListener {
  onProgress: (progress: TaskProgress) => void;
  onLayout?: (layout: LiveLayout) => void;
  onRun?: (progress: RunProgress) => void;
  onEnd: (task: Task) => void;
  onLost: () => void;
}

type Source = Pick<EventSource, "addEventListener" | "close" | "readyState">;

/** Follows a task's events until it ends or the returned function is called. */
export function followTask(
  task: string,
  listener: TaskListener,
  open: (address: string) => Source = (address) => new EventSource(address),
): () => void {
  const source = open(taskEventsAddress(task));
  const on = <T>(name: string, hear: (value: T) => void) =>
    source.addEventListener(name, (event) =>
      hear(JSON.parse((event as MessageEvent<string>).data) as T),
    );
  const end = (last: Task) => {
    source.close();
    listener.onEnd(last);
  };
  on<TaskProgress>("progress", listener.onProgress);
  if (listener.onLayout) on<LiveLayout>("layout", listener.onLayout);
  if (listener.onRun) on<RunProgress>("run", listener.onRun);
  on<Task>("done", end);
  on<Task>("failed", end);
  // The browser tries again by itself while the source is connecting; only a closed one is lost.
  source.addEventListener("error", () => {
    if (source.readyState === 2) listener.onLost();
  });
  return () => source.close();
}
