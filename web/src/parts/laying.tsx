import type { Study } from "@/api/client";
import type { LayingMarks } from "@/canvas/flat_map";
import { asRing } from "@/geometry/view";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

type Laying = Study["laying"];

const asPoint = (point: readonly number[]): [number, number] => [point[0] ?? 0, point[1] ?? 0];

/** What is drawn of a laying plan. */
export function marksOf(laying: Laying): LayingMarks {
  const bulk = laying.bulk;
  return {
    relief: laying.relief.cuts.map((cut) => asRing(cut.on_film)),
    seams: laying.seams.lines.map((seam) => asRing(seam.on_film)),
    slack: bulk?.slack_cuts.map((cut) => asRing(cut.line)) ?? [],
    anchors: bulk?.anchors.map((anchor) => asPoint(anchor.on_film)) ?? [],
    pulls:
      bulk?.pulls.map((pull) => ({
        from: asPoint(pull.from),
        to: asPoint(pull.to),
        back: pull.amount_mm < 0,
      })) ?? [],
  };
}

/** How many of each kind a laying plan has. */
export const countsOf = (marks: LayingMarks) => ({
  anchor: marks.anchors.length,
  pull: marks.pulls.length,
  slack: marks.slack.length,
  relief: marks.relief.length,
  seam: marks.seams.length,
});

/** Relief cuts, seams and the steps of laying a sheet, in the order of the work. */
export function LayingWords({ laying }: { laying: Laying }) {
  const { words } = useReader();
  const { relief, seams, bulk } = laying;
  const lines = [
    ...relief.cuts.map((cut) => cut.words),
    ...(seams.lines.length > 0 || !seams.covered ? [seams.words] : []),
    ...seams.lines.map((seam) => seam.words),
  ];
  if (lines.length === 0 && !bulk) return null;
  return (
    <section className={classes.laying}>
      {lines.length > 0 && (
        <>
          <h3>{words.bodyPage.cutsAndSeams}</h3>
          <ul>
            {lines.map((line) => (
              <li key={line}>{sentence(line)}</li>
            ))}
          </ul>
        </>
      )}
      {bulk && (
        <>
          <h3>{words.bodyPage.laying}</h3>
          <ol>
            {bulk.steps.map((step, index) => (
              <li key={`${index} ${step}`}>{sentence(step)}</li>
            ))}
          </ol>
        </>
      )}
    </section>
  );
}
