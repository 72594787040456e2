import { limitPosition, rampColour, toCss } from "./ramp";
import classes from "./canvas.module.css";

interface StrainLegendProps {
  /** Where to write which value; limits are marked by a line through the bar. */
  ticks: readonly { position: number; text: string }[];
  words: { squeezed: string; stretched: string };
  /** Where the value pointed at lies on the ramp, -1..1. */
  position: number | undefined;
}

const stops = 24;
const share = (position: number) => `${((position + 1) / 2) * 100}%`;
const gradient = Array.from({ length: stops + 1 }, (_, index) => {
  const at = (2 * index) / stops - 1;
  return `${toCss(rampColour(at))} ${share(at)}`;
}).join(", ");

/** The ramp with the film's two limits marked on it. */
export function StrainLegend({ ticks, words, position }: StrainLegendProps) {
  return (
    <div className={classes.legend}>
      <div className={classes.legendNames}>
        <span style={{ left: share(-limitPosition) }}>{words.squeezed}</span>
        <span style={{ left: share(limitPosition) }}>{words.stretched}</span>
      </div>
      <div
        className={classes.legendBar}
        style={{ background: `linear-gradient(90deg, ${gradient})` }}
      >
        {[-limitPosition, limitPosition].map((at) => (
          <i key={at} className={classes.legendLimit} style={{ left: share(at) }} />
        ))}
        {position !== undefined && (
          <i className={classes.legendMark} style={{ left: share(position) }} />
        )}
      </div>
      <div className={classes.legendTicks}>
        {ticks.map((tick) => (
          <span
            key={tick.position}
            style={{ left: share(tick.position) }}
            data-limit={Math.abs(tick.position) === limitPosition}
          >
            {tick.text}
          </span>
        ))}
      </div>
    </div>
  );
}
