import { Button, FileButton } from "@mantine/core";
import type { Standing } from "@/api/client";
import { libraryAddress } from "@/api/client";
import { asProblem, useImportLibrary, useSetStanding, useVersions } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import classes from "./pieces.module.css";

/** The versions of the job's vehicle: decided on, passed on to other shops, taken in. */
export function Versions({ vehicle }: { vehicle: string }) {
  const { words } = useReader();
  const versions = useVersions(vehicle);
  const stand = useSetStanding(vehicle);
  const taken = useImportLibrary();
  const verbs: Partial<Record<Standing, string>> = {
    accepted: words.piecesPage.accept,
    declined: words.piecesPage.decline,
    removed: words.piecesPage.remove,
  };
  return (
    <section className={classes.versions} aria-label={words.piecesPage.versions}>
      <h3>{words.piecesPage.versions}</h3>
      <ol>
        {versions.data?.map((one) => (
          <li key={one.version}>
            <strong>{words.piecesPage.version(one.version)}</strong>{" "}
            <span>{words.piecesPage.standings[one.standing]}</span>
            {one.note !== "" && <p>{one.note}</p>}
            <p>
              {[
                one.author,
                one.made.slice(0, 10),
                one.jobs > 0 ? words.piecesPage.inJobs(one.jobs) : "",
              ]
                .filter((part) => part !== "")
                .join(" · ")}
            </p>
            <div className={classes.actions}>
              {one.choices.map((standing) => (
                <Button
                  key={standing}
                  size="compact-xs"
                  variant="default"
                  onClick={() => stand.mutate({ version: one.version, standing })}
                >
                  {verbs[standing]}
                </Button>
              ))}
            </div>
          </li>
        ))}
      </ol>
      {stand.error && <Trouble error={asProblem(stand.error)} again={() => stand.reset()} />}
      {taken.error && <Trouble error={asProblem(taken.error)} again={() => taken.reset()} />}
      {taken.data && (
        <Note
          tone="plain"
          lines={[words.piecesPage.imported(taken.data.versions.filter((v) => v.added).length)]}
        />
      )}
      <div className={classes.actions}>
        <Button
          component="a"
          size="compact-sm"
          variant="default"
          href={libraryAddress(vehicle)}
          download={`${vehicle}.zip`}
        >
          {words.piecesPage.exportFile}
        </Button>
        <FileButton accept=".zip" onChange={(file) => file && taken.mutate(file)}>
          {(props) => (
            <Button {...props} size="compact-sm" variant="default" loading={taken.isPending}>
              {words.piecesPage.importFile}
            </Button>
          )}
        </FileButton>
      </div>
    </section>
  );
}
