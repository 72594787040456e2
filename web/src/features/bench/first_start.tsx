import { Button, FileButton } from "@mantine/core";
import { Link } from "wouter";
import { useImportLibrary } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import classes from "./bench.module.css";

interface FirstStartProps {
  vehicles: number;
  rolls: number;
}

/** Before there is a job: the way to the shop's own first one, with what is done ticked. */
export function FirstStart({ vehicles, rolls }: FirstStartProps) {
  const { words } = useReader();
  const library = useImportLibrary();
  const { steps } = words.firstStart;
  return (
    <section className={classes.first} aria-labelledby="first-start">
      <h2 id="first-start">{words.firstStart.title}</h2>
      <p>{words.firstStart.text}</p>
      <ol>
        <li data-done={vehicles > 0}>
          <h3>{steps.vehicle}</h3>
          <p>{vehicles > 0 ? words.firstStart.haveVehicles(vehicles) : steps.vehicleText}</p>
          <code>filmwright library --help</code>
          <FileButton
            accept=".zip,application/zip"
            onChange={(file) => file && library.mutate(file)}
          >
            {(button) => (
              <Button variant="default" loading={library.isPending} {...button}>
                {steps.bring}
              </Button>
            )}
          </FileButton>
          {library.error && <Trouble error={library.error} />}
        </li>
        <li data-done={rolls > 0}>
          <h3>{steps.film}</h3>
          <p>{rolls > 0 ? words.firstStart.haveRolls(rolls) : steps.filmText}</p>
        </li>
        <li>
          <h3>{steps.job}</h3>
          <p>{steps.jobText}</p>
          <Button component={Link} href="/counter" disabled={vehicles === 0}>
            {words.counter.title}
          </Button>
        </li>
        <li>
          <h3>{steps.demo}</h3>
          <p>{steps.demoText}</p>
          <code>filmwright serve --demo</code>
        </li>
      </ol>
    </section>
  );
}
