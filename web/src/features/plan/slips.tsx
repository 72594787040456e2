import type { PlanSlip } from "@/api/plan";
import { useReader } from "@/words/preferences";
import { moment } from "./scale";
import classes from "./plan.module.css";

/** Promises that would be broken, and by how much. */
export function Slips({ slips }: { slips: readonly PlanSlip[] }) {
  const { words, format } = useReader();
  if (slips.length === 0) return null;
  return (
    <ul className={classes.slips}>
      {slips.map((slip) => (
        <li key={slip.job}>
          {slip.promise && slip.after
            ? words.plan.slips(
                slip.title,
                format.lasting((moment(slip.after) - moment(slip.promise)) / 60_000),
                format.moment(slip.after),
              )
            : words.plan.noPlace(slip.title)}
        </li>
      ))}
    </ul>
  );
}
