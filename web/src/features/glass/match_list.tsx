import { type KeyboardEvent, useId } from "react";
import type { GlassMatch } from "@/api/client";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { encoded } from "./look";
import { VerdictMark } from "./verdict";
import classes from "./glass.module.css";

interface MatchListProps {
  matches: readonly GlassMatch[];
  picked: string;
  onPick: (key: string) => void;
  keyOf: (films: readonly string[]) => string;
  nameOf: (film: string) => string;
}

/** The films by how near they come; up and down walk through them. */
export function MatchList({ matches, picked, onPick, keyOf, nameOf }: MatchListProps) {
  const { words, format } = useReader();
  const page = words.glassPage;
  const base = useId();
  const walk = (event: KeyboardEvent) => {
    const at = matches.findIndex(({ films }) => keyOf(films) === picked);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: matches.length - 1 }[
      event.key
    ];
    if (next === undefined) return;
    event.preventDefault();
    const match = matches[Math.min(matches.length - 1, Math.max(0, next))];
    if (match) onPick(keyOf(match.films));
  };
  return (
    <Sheet title={page.matches} className={classes.matches}>
      <div
        role="listbox"
        tabIndex={0}
        aria-label={page.matches}
        aria-activedescendant={`${base}${picked}`}
        className={classes.options}
        onKeyDown={walk}
      >
        {matches.map((match) => {
          const key = keyOf(match.films);
          const [red = 0, green = 0, blue = 0] = match.look.through;
          return (
            <div
              key={key}
              id={`${base}${key}`}
              role="option"
              aria-selected={key === picked}
              className={classes.option}
              onClick={() => onPick(key)}
            >
              <i
                aria-hidden="true"
                style={{ background: `rgb(${encoded(red)} ${encoded(green)} ${encoded(blue)})` }}
              />
              <span>
                <strong>{match.films.map(nameOf).join(" + ") || page.bare}</strong>
                {match.within_doubt && <em>{page.twins}</em>}
              </span>
              <span>
                {format.percent(match.visible.value)}
                <small>
                  {format.number(100 * match.visible.low, 0)} –{" "}
                  {format.number(100 * match.visible.high, 0)}
                </small>
              </span>
              <span>
                {format.number(match.by_day, 1)}
                <small>{page.byDay}</small>
              </span>
              <span>
                {format.number(match.colour, 1)}
                <small>{page.colour}</small>
              </span>
              <VerdictMark ruling={match.ruling} quiet={match.films.length === 0} />
            </div>
          );
        })}
      </div>
    </Sheet>
  );
}
