import { byZone, zoneFill } from "@/canvas/zones";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

/** Which colour stands for which zone. */
export function ZoneLegend({ zones }: { zones: readonly string[] }) {
  const { words } = useReader();
  return (
    <ul className={classes.legend} aria-label={words.rollPage.zones}>
      {[...new Set(zones)].sort(byZone).map((zone) => (
        <li key={zone}>
          <i style={{ background: zoneFill(zone) }} aria-hidden="true" />
          {words.zones[zone] ?? zone}
        </li>
      ))}
    </ul>
  );
}
