import type { Job } from "@/api/client";
import { useHistory } from "@/api/job_queries";
import { useIsOne } from "@/api/session";
import { PaperLinks } from "@/parts/paper_links";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import { CustomerLink } from "./customer_link";
import { Life } from "./life_view";
import { ShareLinks } from "./share_links";
import classes from "./job.module.css";

/** A job at a glance: where it is in its life and what comes next, for whom, and what happened. */
export default function JobPage({ job }: { job: Job }) {
  const { words } = useReader();
  const mayShare = useIsOne("lead", "desk");
  return (
    <div className={classes.page}>
      <h1>{job.title}</h1>
      <div className={classes.columns}>
        <div className={classes.column}>
          <Life job={job} />
          <History job={job.id} />
        </div>
        <div className={classes.column}>
          <CustomerLink job={job} />
          {mayShare && <ShareLinks job={job.id} />}
          <Sheet title={words.papers.title}>
            <PaperLinks job={job.id} />
          </Sheet>
        </div>
      </div>
    </div>
  );
}

function History({ job }: { job: string }) {
  const { words, format } = useReader();
  const history = useHistory(job);
  return (
    <Sheet title={words.jobPage.history}>
      {history.error && <Trouble error={history.error} again={() => void history.refetch()} />}
      <ol className={classes.history} reversed>
        {[...(history.data ?? [])].reverse().map((entry, index) => (
          <li key={index}>
            <span>
              {format.instant(entry.at)} · {entry.who}
            </span>
            <strong>{sentence(entry.what)}</strong>
            {entry.detail && <p>{entry.detail}</p>}
          </li>
        ))}
      </ol>
    </Sheet>
  );
}
