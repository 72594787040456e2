import type { Study } from "@/api/client";
import { decidingPosition, type Limits, type Rgb, rampColour } from "@/canvas/ramp";
import { asRing, type Ring } from "@/geometry/view";
import type { VehiclePoint } from "@/parts/stage/frame";

export type Corners = readonly [number, number, number];

/** A study's arrays as points and triangles, with the colour of each triangle. */
export interface Strain {
  panel: string;
  points: VehiclePoint[];
  flat: [number, number][];
  triangles: Corners[];
  limits: Limits;
  positions: number[];
  colours: Rgb[];
  /** Triangles that are stretched past what leaves no mark. */
  overstretched: number[];
  /** Crests of the folds that will not lie down, on the film and on the panel. */
  fingers: Ring[];
  fingersOnPanel: VehiclePoint[][];
  anchors: VehiclePoint[];
  /** In their order: where the hand is and whither it pulls, a unit vector. */
  pulls: { at: VehiclePoint; direction: VehiclePoint }[];
}

export function strainOf(study: Study): Strain {
  const limits = { squeeze: study.report.finger_limit, stretch: study.report.mark_limit };
  const positions = study.stretch_max.map((greatest, index) =>
    decidingPosition(greatest, study.stretch_min[index] ?? 1, limits),
  );
  return {
    panel: study.panel,
    points: inThrees(study.points),
    flat: Array.from({ length: study.flat.length / 2 }, (_, i) => [
      study.flat[2 * i] ?? 0,
      study.flat[2 * i + 1] ?? 0,
    ]),
    triangles: inThrees(study.triangles),
    limits,
    positions,
    colours: positions.map(rampColour),
    overstretched: study.stretch_max.flatMap((most, index) =>
      most > limits.stretch ? [index] : [],
    ),
    fingers: study.fingers.map(({ on_film }) => asRing(on_film)),
    fingersOnPanel: study.fingers.map(({ on_panel }) => on_panel.map(inSpace)),
    anchors: study.laying.bulk?.anchors.map(({ on_panel }) => inSpace(on_panel)) ?? [],
    pulls:
      study.laying.bulk?.pulls.map(({ at, direction }) => ({
        at: inSpace(at),
        direction: inSpace(direction),
      })) ?? [],
  };
}

const inSpace = (point: readonly number[]): VehiclePoint => [
  point[0] ?? 0,
  point[1] ?? 0,
  point[2] ?? 0,
];

const inThrees = (values: readonly number[]): [number, number, number][] =>
  Array.from({ length: values.length / 3 }, (_, i) => [
    values[3 * i] ?? 0,
    values[3 * i + 1] ?? 0,
    values[3 * i + 2] ?? 0,
  ]);
