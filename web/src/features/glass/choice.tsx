import type { GlassMatch, GlassMatches, WindowPosition } from "@/api/client";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { VerdictGround, VerdictMark } from "./verdict";
import classes from "./glass.module.css";

interface ChoiceProps {
  answer: GlassMatches;
  match: GlassMatch;
  title: string;
  position: WindowPosition;
  place: string;
}

/** Heat and verdict of the chosen films. */
export function Choice({ answer, match, title, position, place }: ChoiceProps) {
  const { words, format } = useReader();
  const page = words.glassPage;
  const share = (value: number | null | undefined) =>
    value === null || value === undefined ? "–" : format.percent(value, 0);
  const gain = (heat: GlassMatch["standing"]) => (heat ? format.number(heat.gain, 2) : "–");
  const stopped = match.infrared_stopped;
  const kept = match.standing?.rejected;
  return (
    <Sheet title={title} className={classes.choice}>
      <div className={classes.figures}>
        <Figure size="small" label={page.rejected} value={share(kept)} />
        <Figure size="small" label={page.infrared} value={share(stopped)} />
        <Figure size="small" label={page.gStanding} value={gain(match.standing)} />
        <Figure size="small" label={page.gMoving} value={gain(match.moving)} />
        <Figure size="small" label={page.ultraviolet} value={share(match.ultraviolet)} />
        <Figure size="small" label={page.reflected} value={share(match.reflectance)} />
      </div>
      <p className={classes.small}>
        {page.conditions(format.number(answer.standing.he, 0), format.number(answer.moving.he, 0))}
      </p>
      {typeof stopped === "number" && typeof kept === "number" && stopped - kept > 0.1 && (
        <Note tone="plain" lines={page.infraredIsNotHeat} />
      )}
      {place && match.films.length > 0 && (
        <div className={classes.ruling}>
          <h3>{page.verdictFor(page.positions[position], place)}</h3>
          <VerdictMark ruling={match.ruling} />
          <VerdictGround ruling={match.ruling} />
          <p className={classes.small}>{page.noAdvice.join(" ")}</p>
        </div>
      )}
    </Sheet>
  );
}
