import { usePapers } from "@/api/queries";
import { useReader } from "@/words/preferences";
import { Trouble } from "./trouble";
import classes from "./parts.module.css";

interface PaperLinksProps {
  job: string;
  /** Only these, in this order; default: all that can be made now. */
  only?: readonly string[];
}

/** The job's papers as PDF, in the reader's language and units. */
export function PaperLinks({ job, only }: PaperLinksProps) {
  const { words, language, unit } = useReader();
  const papers = usePapers(job);
  if (papers.error) return <Trouble error={papers.error} again={() => void papers.refetch()} />;
  const shown = papers.data?.filter(({ id }) => !only || only.includes(id)) ?? [];
  if (shown.length === 0) return null;
  return (
    <ul className={classes.papers} aria-label={words.papers.title}>
      {shown.map(({ id, title, href }) => (
        <li key={id}>
          <a href={`${href}?language=${language}&unit=${unit}`} target="_blank" rel="noreferrer">
            {words.papers.names[id] ?? title} (PDF)
          </a>
        </li>
      ))}
    </ul>
  );
}
