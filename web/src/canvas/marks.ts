/** Colours of what is drawn over the strain, light and dark alike; MarkLegend explains them. */
export const markColours = {
  finger: "#ffffff",
  fold: "#101414",
  slack: "#555b5a",
  relief: "#a3163a",
  seam: "#0b5fa5",
  pull: "#101414",
  back: "#7a4a00",
} as const;

const markKinds = ["finger", "overstretched", "anchor", "pull", "slack", "relief", "seam"] as const;
export type MarkKind = (typeof markKinds)[number];

/** Lines and points drawn for the installer, and which kinds of them a plan has. */
export const kindsOf = (count: Partial<Record<MarkKind, number>>): MarkKind[] =>
  markKinds.filter((kind) => (count[kind] ?? 0) > 0);
