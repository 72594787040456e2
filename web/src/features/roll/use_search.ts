import { useCallback, useEffect, useRef, useState } from "react";
import {
  type LayoutRequest,
  type LiveLayout,
  ServerProblem,
  type Task,
  type TaskProgress,
} from "@/api/client";
import { useJobChanged, useStartLayout, useStopTask } from "@/api/queries";
import { followTask } from "@/api/task_events";

/** A search for a layout while it runs. */
export interface Search {
  task: string;
  film: string;
  wanted: number; // seconds asked for
  progress: TaskProgress;
  layout: LiveLayout | undefined;
  stopping: boolean;
}

export type SearchRequest = LayoutRequest & { film: string; seconds: number };

/** Starts, follows and stops the search for a layout. */
export function useSearchForLayout(job: string) {
  const [search, setSearch] = useState<Search>();
  const [error, setError] = useState<unknown>();
  const { mutateAsync: start, isPending: starting } = useStartLayout(job);
  const { mutate: halt } = useStopTask();
  const changed = useJobChanged(job);
  const unfollow = useRef<() => void>(null);
  useEffect(() => () => unfollow.current?.(), []);

  const update = (part: Partial<Search>) => setSearch((before) => before && { ...before, ...part });

  const end = useCallback(
    async ({ state, problem }: Task) => {
      if (state === "failed")
        setError(
          problem
            ? new ServerProblem(problem.code, problem.message, problem.where, problem.remedy)
            : new ServerProblem("failed", ""),
        );
      await changed();
      setSearch(undefined);
    },
    [changed],
  );

  const begin = async (request: SearchRequest) => {
    setError(undefined);
    try {
      const task = await start(request);
      setSearch({
        task: task.id,
        film: request.film,
        wanted: request.seconds,
        progress: task.progress,
        layout: undefined,
        stopping: false,
      });
      unfollow.current = followTask(task.id, {
        onProgress: (progress) => update({ progress }),
        onLayout: (layout) => update({ layout }),
        onEnd: (last) => void end(last),
        onLost: () => {
          setSearch(undefined);
          setError(new ServerProblem("unreachable", ""));
        },
      });
    } catch (fault) {
      setError(fault);
    }
  };

  const stop = () => {
    if (!search) return;
    update({ stopping: true });
    halt(search.task, { onError: setError });
  };

  return { search, error, begin, stop, starting };
}
