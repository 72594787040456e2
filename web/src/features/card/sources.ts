import type { Cards } from "@/api/client";

export type Source = Cards["sources"][number];

/** What a piece of a film may come from: rolls, and offcuts with at least its area of film. */
export const sourcesFor = (sources: readonly Source[], film: string, area: number): Source[] =>
  sources.filter((source) => source.film === film && (!source.offcut || source.area_mm2 >= area));
