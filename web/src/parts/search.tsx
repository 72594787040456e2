import {
  createContext,
  type ReactNode,
  use,
  useCallback,
  useEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import {
  answerOf,
  client,
  type LayoutEdit,
  type LayoutRequest,
  type LiveLayout,
  ServerProblem,
  type Task,
  type TaskProgress,
} from "@/api/client";
import { useJobChanged, useSqueezeLayout, useStartLayout, useStopTask } from "@/api/queries";
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

interface SearchPlace {
  search: Search | undefined;
  error: unknown;
  starting: boolean;
  /** From nothing, or on from an edited layout. */
  begin: (request: SearchRequest, from?: LayoutEdit) => void;
  stop: () => void;
}

const SearchContext = createContext<SearchPlace | null>(null);

/** Starts, follows and stops the search for a layout of one job. It stands above the job's pages
 * and is found again after a reload, so that a search is never out of sight. */
export function SearchProvider({ job, children }: { job: string; children: ReactNode }) {
  const [search, setSearch] = useState<Search>();
  const [error, setError] = useState<unknown>();
  const { mutateAsync: start, isPending: starting } = useStartLayout(job);
  const { mutateAsync: squeeze, isPending: squeezing } = useSqueezeLayout(job);
  const { mutate: halt } = useStopTask();
  const changed = useJobChanged(job);
  const unfollow = useRef<() => void>(null);

  const follow = useCallback(
    (task: Task, wanted: number) => {
      const update = (part: Partial<Search>) =>
        setSearch((before) => before && { ...before, ...part });
      remember(job, { task: task.id, wanted });
      setSearch({
        task: task.id,
        film: task.film,
        wanted,
        progress: task.progress,
        layout: undefined,
        stopping: task.state === "stopping",
      });
      unfollow.current = followTask(task.id, {
        onProgress: (progress) => update({ progress }),
        onLayout: (layout) => update({ layout }),
        onEnd: ({ state, problem }) => {
          forget(job);
          if (state === "failed") setError(problemOf(problem));
          void changed().then(() => setSearch(undefined));
        },
        onLost: () => {
          setSearch(undefined);
          setError(new ServerProblem("unreachable", ""));
        },
      });
    },
    [job, changed],
  );

  useEffect(() => {
    const kept = remembered(job);
    let wanted = true;
    if (kept)
      void answerOf(client.GET("/tasks/{task}", { params: { path: { task: kept.task } } })).then(
        (task) => {
          if (!wanted) return;
          if (task.state === "running" || task.state === "stopping") follow(task, kept.wanted);
          else forget(job);
        },
        () => forget(job),
      );
    return () => {
      wanted = false;
      unfollow.current?.();
    };
  }, [job, follow]);

  const place = useMemo<SearchPlace>(
    () => ({
      search,
      error,
      starting: starting || squeezing,
      begin: (request, from) => {
        setError(undefined);
        const started = from ? squeeze({ ...from, seconds: request.seconds }) : start(request);
        started.then((task) => follow(task, request.seconds), setError);
      },
      stop: () => {
        if (!search) return;
        setSearch({ ...search, stopping: true });
        halt(search.task, { onError: setError });
      },
    }),
    [search, error, starting, squeezing, start, squeeze, halt, follow],
  );
  return <SearchContext value={place}>{children}</SearchContext>;
}

export function useSearchPlace(): SearchPlace {
  const place = use(SearchContext);
  if (!place) throw new Error("useSearchPlace needs a SearchProvider above it");
  return place;
}

const problemOf = (problem: Task["problem"]) =>
  problem
    ? new ServerProblem(problem.code, problem.message, problem.where, problem.remedy)
    : new ServerProblem("failed", "");

interface Kept {
  task: string;
  wanted: number;
}

const keyOf = (job: string) => `filmwright.search.${job}`;
const remember = (job: string, kept: Kept) =>
  sessionStorage.setItem(keyOf(job), JSON.stringify(kept));
const forget = (job: string) => sessionStorage.removeItem(keyOf(job));
const remembered = (job: string): Kept | undefined => {
  const kept = sessionStorage.getItem(keyOf(job));
  return kept === null ? undefined : (JSON.parse(kept) as Kept);
};
