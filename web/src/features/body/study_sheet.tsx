import { Skeleton, useComputedColorScheme } from "@mantine/core";
import { useMemo, useRef } from "react";
import type { Film, Panel, Study } from "@/api/client";
import { FlatMap } from "@/canvas/flat_map";
import { MarkLegend } from "@/canvas/mark_legend";
import { kindsOf } from "@/canvas/marks";
import { limitPosition, rampPosition } from "@/canvas/ramp";
import { StrainLegend } from "@/canvas/strain_legend";
import { asRing, boxOf, heightOf, type Ring, widthOf } from "@/geometry/view";
import { Cautions, cautionsOf } from "@/parts/cautions";
import { EdgeTable } from "@/parts/edge_table";
import { countsOf, LayingWords, marksOf } from "@/parts/laying";
import { TakePicture } from "@/parts/take_picture";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import type { Strain } from "./strain";
import classes from "./body.module.css";

interface StudySheetProps {
  panel: Panel;
  film: Film;
  inJob: boolean;
  study: Study | undefined;
  strain: Strain | undefined;
  error: unknown;
  again: () => void;
  triangle: number | undefined;
  onTriangle: (triangle: number | undefined) => void;
}

/** How film behaves on one panel. */
export function StudySheet(props: StudySheetProps) {
  const { panel, film, study, strain } = props;
  const { words } = useReader();
  return (
    <div className={classes.sheet}>
      <header className={classes.sheetHead}>
        <h1>{panel.name}</h1>
        <p>
          {words.zones[panel.zone] ?? panel.zone} · {words.finishes[panel.finish]} · {film.name}
          {!props.inJob && ` · ${words.bodyPage.outOfJob}`}
        </p>
      </header>
      {props.error !== null && props.error !== undefined ? (
        <Trouble error={props.error} again={props.again} />
      ) : study && strain ? (
        <Found {...props} study={study} strain={strain} />
      ) : (
        <Computing />
      )}
      <Cautions names={cautionsOf(panel, study?.method.choice)} />
    </div>
  );
}

function Computing() {
  const { words } = useReader();
  return (
    <div className={classes.computing} role="status">
      <Skeleton height={64} radius={8} />
      <div className={classes.map}>
        <p>{words.bodyPage.computing}…</p>
      </div>
      <Skeleton height={120} radius={8} />
    </div>
  );
}

interface FoundProps extends StudySheetProps {
  study: Study;
  strain: Strain;
}

function Found({ panel, study, strain, triangle, onTriangle }: FoundProps) {
  const { words, format } = useReader();
  const dark = useComputedColorScheme("light") === "dark";
  const { report, reach, piece } = study;
  const cut = useMemo<Ring[]>(() => [piece.cut.outer, ...piece.cut.holes].map(asRing), [piece.cut]);
  const slits = useMemo(() => piece.slits.map(asRing), [piece.slits]);
  const marks = useMemo(() => marksOf(study.laying), [study.laying]);
  const roll = useMemo(
    () => ({
      width: reach.roll_width_mm,
      words: words.bodyPage.rollWords(format.length(reach.roll_width_mm)),
    }),
    [reach.roll_width_mm, words, format],
  );
  const kinds = kindsOf({
    finger: strain.fingers.length,
    overstretched: strain.overstretched.length,
    ...countsOf(marks),
  });
  const map = useRef<HTMLDivElement>(null);
  const box = boxOf(cut);
  const share = (area: number) => format.percent(area / Math.max(report.area_mm2, 1));

  return (
    <>
      <MethodWords study={study} />
      <div className={classes.map} ref={map}>
        <div className={classes.take}>
          <TakePicture of={map} name={panel.name} size={28} />
        </div>
        <FlatMap
          label={words.bodyPage.mapLabel(panel.name)}
          flat={strain.flat}
          triangles={strain.triangles}
          colours={strain.colours}
          cut={cut}
          slits={slits}
          fingers={strain.fingers}
          overstretched={strain.overstretched}
          laying={marks}
          roll={roll}
          triangle={triangle}
          onTriangle={onTriangle}
          dark={dark}
        />
      </div>
      <StrainLegend
        ticks={ticksOf(strain.limits, format.stretch)}
        words={{ squeezed: words.bodyPage.squeezed, stretched: words.bodyPage.stretched }}
        position={triangle === undefined ? undefined : strain.positions[triangle]}
      />
      <MarkLegend kinds={kinds} words={words.bodyPage.markKinds} />
      <p className={classes.reading} aria-live="polite">
        {triangle === undefined ? (
          words.bodyPage.pointHint
        ) : (
          <>
            {words.bodyPage.here}: {words.bodyPage.greatest}{" "}
            <b>{format.stretch(study.stretch_max[triangle] ?? 1, 2)}</b>, {words.bodyPage.least}{" "}
            <b>{format.stretch(study.stretch_min[triangle] ?? 1, 2)}</b>
          </>
        )}
      </p>
      <div className={classes.figures}>
        <Figure label={words.bodyPage.greatest} value={format.stretch(report.stretch_most)} />
        <Figure
          label={words.bodyPage.fingers}
          value={share(report.finger_area_mm2)}
          tone={report.finger_area_mm2 > 0 ? "caution" : "normal"}
        />
        <Figure
          label={words.bodyPage.marks}
          value={share(report.mark_area_mm2)}
          tone={report.mark_area_mm2 > 0 ? "caution" : "normal"}
        />
      </div>
      <div className={classes.figures}>
        <Figure
          size="small"
          label={`${words.bodyPage.fits} ${format.length(reach.roll_width_mm)}`}
          value={reach.fits ? words.bodyPage.yes : words.bodyPage.no}
          tone={reach.fits ? "normal" : "caution"}
        />
        <Figure
          size="small"
          label={words.bodyPage.needs}
          value={format.stretch(reach.stretch_needed, 2)}
        />
        <Figure
          size="small"
          label={words.bodyPage.flatSize}
          value={format.size(widthOf(box), heightOf(box))}
        />
      </div>
      <LayingWords laying={study.laying} />
      {[report.verdict, reach.plan].filter(Boolean).map((line) => (
        <p key={line} className={classes.words}>
          {sentence(line)}
        </p>
      ))}
      <EdgeTable edges={study.piece.edges} />
      {study.notes.length > 0 && <Note tone="plain" lines={study.notes} />}
    </>
  );
}

function MethodWords({ study }: { study: Study }) {
  const { words } = useReader();
  return (
    <section className={classes.method} data-choice={study.method.choice}>
      <h2>{words.methods[study.method.choice]}</h2>
      <ul>
        {study.method.reasons.map((reason) => (
          <li key={reason}>{sentence(reason)}</li>
        ))}
      </ul>
    </section>
  );
}

/** Which values to write under the ramp: both limits, none, and two that a hand can judge. */
function ticksOf(limits: Strain["limits"], write: (ratio: number, digits: number) => string) {
  const between = [1.01, 1.05].filter((ratio) => ratio < limits.stretch / 1.02);
  return [
    { position: -limitPosition, text: write(limits.squeeze, 1) },
    { position: 0, text: "0" },
    ...between.map((ratio) => ({
      position: rampPosition(ratio, limits),
      text: write(ratio, 0),
    })),
    { position: limitPosition, text: write(limits.stretch, 0) },
  ];
}
