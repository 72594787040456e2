import { SegmentedControl, useComputedColorScheme } from "@mantine/core";
import {
  Component,
  lazy,
  type ReactNode,
  Suspense,
  useCallback,
  useMemo,
  useRef,
  useState,
} from "react";
import type { Film, Job, Vehicle } from "@/api/client";
import { useVehicleModel } from "@/api/queries";
import { TakePicture } from "@/parts/take_picture";
import { Trouble } from "@/parts/trouble";
import { Empty } from "@/ui/note";
import { useReader } from "@/words/preferences";
import type { Viewpoint } from "@/parts/stage/orbit";
import type { Strain } from "./strain";
import classes from "./body.module.css";

const Stage = lazy(() => import("@/parts/stage/stage"));
const viewpoints = ["corner", "front", "side", "back", "above"] as const;

interface StageFrameProps {
  vehicle: Vehicle | undefined;
  job: Job;
  films: readonly Film[] | undefined;
  picked: string | undefined;
  hovered: string | undefined;
  strain: Strain | undefined;
  triangle: number | undefined;
  shown: "strain" | "look";
  onShown: (shown: "strain" | "look") => void;
  onPick: (panel: string | undefined) => void;
  onHover: (panel: string | undefined) => void;
  onTriangle: (triangle: number | undefined) => void;
}

/** The 3D stage with what surrounds it: where to look from and what to show. */
export function StageFrame(props: StageFrameProps) {
  const { words } = useReader();
  const { vehicle, job, hovered, picked } = props;
  const model = useVehicleModel(job.vehicle);
  const stage = useRef<HTMLElement>(null);
  const dark = useComputedColorScheme("light") === "dark";
  const [viewpoint, setViewpoint] = useState<Viewpoint>({ from: "corner", turn: 0 });
  const finishes = useMemo(
    () => new Map(vehicle?.panels.map(({ id, finish }) => [id, finish])),
    [vehicle],
  );
  const finishOf = useCallback((panel: string) => finishes.get(panel), [finishes]);
  const named = vehicle?.panels.find(({ id }) => id === (hovered ?? picked));

  return (
    <section ref={stage} className={classes.stage} aria-label={vehicle?.name ?? words.steps.body}>
      <NoStage words={words.bodyPage}>
        <Suspense fallback={null}>
          {model.data && vehicle && (
            <Stage
              label={words.bodyPage.stage}
              model={model.data as ArrayBuffer}
              finishOf={finishOf}
              picked={picked}
              hovered={hovered}
              painted={props.strain}
              triangle={props.triangle}
              viewpoint={viewpoint}
              dark={dark}
              onPick={props.onPick}
              onHover={props.onHover}
              onTriangle={props.onTriangle}
            />
          )}
        </Suspense>
      </NoStage>
      {model.error && (
        <div className={classes.fault}>
          <Trouble error={model.error} again={() => void model.refetch()} />
        </div>
      )}
      <div className={classes.stageTop}>
        <p className={classes.stageName}>
          <strong>{vehicle?.name}</strong>
          <span>{named?.name}</span>
        </p>
        <SegmentedControl
          size="xs"
          aria-label={words.bodyPage.showOn}
          value={props.shown}
          onChange={(value) => props.onShown(value === "look" ? "look" : "strain")}
          data={[
            { value: "strain", label: words.bodyPage.strain },
            { value: "look", label: words.bodyPage.look },
          ]}
        />
      </div>
      <div className={classes.views} role="group" aria-label={words.bodyPage.views}>
        {viewpoints.map((from) => (
          <button
            key={from}
            type="button"
            aria-pressed={viewpoint.from === from}
            onClick={() => setViewpoint(({ turn }) => ({ from, turn: turn + 1 }))}
          >
            {words.bodyPage.from[from]}
          </button>
        ))}
        <TakePicture lines={false} of={stage} name={vehicle?.name ?? job.vehicle} size={32} />
      </div>
    </section>
  );
}

/** Without WebGL the stage says so; everything else on the page goes on. */
class NoStage extends Component<
  { words: { noStage: string; noStageText: string }; children: ReactNode },
  { failed: boolean }
> {
  override state = { failed: false };

  static getDerivedStateFromError() {
    return { failed: true };
  }

  override render() {
    if (!this.state.failed) return this.props.children;
    return (
      <Empty title={this.props.words.noStage}>
        <p>{this.props.words.noStageText}</p>
      </Empty>
    );
  }
}
