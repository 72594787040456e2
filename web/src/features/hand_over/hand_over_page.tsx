import { Link } from "wouter";
import type { Job } from "@/api/client";
import { useInstallation } from "@/api/installation_queries";
import { useJobGlass } from "@/api/queries";
import { useIsOne } from "@/api/session";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { Account } from "./account";
import { GiveBack } from "./give_back";
import { Inspecting } from "./inspecting";
import classes from "./hand_over.module.css";

/** From the last piece to the owner: inspected, handed over, billed. */
export default function HandOverPage({ job }: { job: Job }) {
  const { words } = useReader();
  const installation = useInstallation(job.id);
  const maySeeMoney = useIsOne("lead", "desk", "cutter", "installer");
  if (installation.error)
    return (
      <div className={classes.page}>
        <Trouble error={installation.error} again={() => void installation.refetch()} />
      </div>
    );
  if (!installation.data) return <div aria-busy="true" />;
  return (
    <div className={classes.page}>
      <h1>{words.handOver.title}</h1>
      <div className={classes.columns}>
        <div className={classes.column}>
          <Inspecting job={job} installation={installation.data} />
          <Readings job={job.id} />
        </div>
        <div className={classes.column}>
          <GiveBack job={job} installation={installation.data} />
          {maySeeMoney && <Account job={job} />}
        </div>
      </div>
    </div>
  );
}

/** What the meter showed on each window with film. */
function Readings({ job }: { job: string }) {
  const { words, format } = useReader();
  const glass = useJobGlass(job);
  const windows = glass.data?.windows.filter(({ film }) => film !== "") ?? [];
  return (
    <Sheet
      title={words.handOver.readings}
      actions={<Link href={`/jobs/${encodeURIComponent(job)}/glass`}>{words.glassPage.read}</Link>}
    >
      {glass.error && <Trouble error={glass.error} again={() => void glass.refetch()} />}
      {glass.data && windows.length === 0 && (
        <p className={classes.soft}>{words.handOver.noWindows}</p>
      )}
      <ul className={classes.readings}>
        {windows.map(({ panel, name, after, ruling }) => (
          <li key={panel}>
            <span>{name}</span>
            <b data-open={!after}>
              {after
                ? `${format.percent(after.transmittance)}, ${after.meter}`
                : words.glassPage.notRead}
            </b>
            <small>{words.glassPage.verdicts[ruling.verdict]}</small>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
