import { markColours, type MarkKind } from "./marks";
import classes from "./canvas.module.css";

interface MarkLegendProps {
  /** What is on the picture now, and what each is called. */
  kinds: readonly MarkKind[];
  words: Record<MarkKind, string>;
}

/** Samples of what is drawn over the strain, each with its name. */
export function MarkLegend({ kinds, words }: MarkLegendProps) {
  if (kinds.length === 0) return null;
  return (
    <ul className={classes.marks}>
      {kinds.map((kind) => (
        <li key={kind}>
          <svg width={30} height={14} viewBox="0 0 30 14" aria-hidden="true">
            <rect width={30} height={14} rx={3} fill="#e9e4d8" />
            <Sample kind={kind} />
          </svg>
          {words[kind]}
        </li>
      ))}
    </ul>
  );
}

function Sample({ kind }: { kind: MarkKind }) {
  switch (kind) {
    case "finger":
      return <Line colour={markColours.finger} width={1.8} halo={markColours.fold} />;
    case "slack":
      return <Line colour={markColours.slack} width={1.4} dash="6 4" />;
    case "relief":
      return <Line colour={markColours.relief} width={2.2} />;
    case "seam":
      return <Line colour={markColours.seam} width={2.4} dash="10 4" />;
    case "overstretched":
      return (
        <path
          d="M2 12L12 2M8 12L18 2M14 12L24 2M20 12L28 4"
          stroke="#101414"
          strokeWidth={1}
          fill="none"
        />
      );
    case "anchor":
      return (
        <circle cx={15} cy={7} r={4.4} fill={markColours.pull} stroke="#fff" strokeWidth={1.6} />
      );
    case "pull":
      return (
        <path
          d="M4 7H25M25 7L19 3M25 7L19 11"
          stroke={markColours.pull}
          strokeWidth={2}
          fill="none"
        />
      );
  }
}

interface LineProps {
  colour: string;
  width: number;
  dash?: string;
  halo?: string;
}

function Line({ colour, width, dash, halo = "#fff" }: LineProps) {
  return (
    <>
      <path d="M3 9Q15 2 27 7" stroke={halo} strokeWidth={width + 2} fill="none" />
      <path
        d="M3 9Q15 2 27 7"
        stroke={colour}
        strokeWidth={width}
        strokeDasharray={dash}
        fill="none"
      />
    </>
  );
}
