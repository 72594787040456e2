import type { Ruling } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./glass.module.css";

const signs = { allowed: "✓", not_allowed: "✕", unknown: "?" } as const;

/** The verdict in a word and a sign; nothing where no film is judged. */
export function VerdictMark({ ruling, quiet = false }: { ruling: Ruling; quiet?: boolean }) {
  const { words } = useReader();
  if (quiet) return <span />;
  return (
    <span className={classes.verdict} data-verdict={ruling.verdict}>
      <b aria-hidden="true">{signs[ruling.verdict]}</b> {words.glassPage.verdicts[ruling.verdict]}
    </span>
  );
}

/** What the verdict rests on: the rule, its law, and how it was read. */
export function VerdictGround({ ruling }: { ruling: Ruling }) {
  const { words, format } = useReader();
  const page = words.glassPage;
  const { limit } = ruling;
  return (
    <div className={classes.ground}>
      <p lang="en">{ruling.reason}</p>
      {limit && (
        <p>
          {page.kinds[limit.kind]}
          {limit.least !== null && ` ${format.percent(limit.least, 0)}`} ·{" "}
          <span lang="en">{limit.text}</span> · {page.confidences[limit.confidence]}
          {limit.date_read && `, ${limit.date_read}`}
        </p>
      )}
    </div>
  );
}
