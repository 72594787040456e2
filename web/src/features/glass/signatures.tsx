import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import type { JobGlass, OpenConcern } from "@/api/client";
import type { useRecordGlass } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./glass.module.css";

const kinds = ["lamp", "reflector", "sensor"] as const;
type Kind = (typeof kinds)[number];

interface SignaturesProps {
  glass: JobGlass;
  decision: ReturnType<typeof useRecordGlass>["decision"];
}

/** What someone must answer for before work is planned, and what was signed. */
export function Signatures({ glass, decision }: SignaturesProps) {
  const { words } = useReader();
  const page = words.glassPage;
  return (
    <Sheet title={page.signatures}>
      {glass.open.length > 0 ? (
        <Note tone="caution" lines={[page.open(glass.open.length), page.openText]} />
      ) : (
        <p className={classes.small}>{page.allSigned}</p>
      )}
      {kinds.map((kind) => {
        const open = glass.open.filter(({ concern }) => concern === kind);
        return open.length > 0 && <Sign key={kind} {...{ kind, open, decision }} />;
      })}
      {decision.error && <Trouble error={decision.error} />}
      <ul className={classes.signed}>
        {kinds.map((kind) => {
          const newest = newestOf(glass, kind);
          return newest.map((one) => (
            <li key={`${kind} ${one.panel}`}>
              <strong>{one.panel.replaceAll("_", " ")}</strong> {page.concerns[kind]}:{" "}
              {one.go_ahead ? page.signed : page.refused} · {one.signed_by}, {one.at.slice(0, 10)}
              <small>{one.basis}</small>
            </li>
          ));
        })}
      </ul>
    </Sheet>
  );
}

/** The newest decision of a kind on each panel. */
function newestOf(glass: JobGlass, kind: Kind) {
  const newest = new Map<string, JobGlass["decisions"][number]>();
  for (const one of glass.decisions) if (one.concern === kind) newest.set(one.panel, one);
  return [...newest.values()];
}

interface SignProps {
  kind: Kind;
  open: readonly OpenConcern[];
  decision: SignaturesProps["decision"];
}

function Sign({ kind, open, decision }: SignProps) {
  const { words } = useReader();
  const page = words.glassPage;
  const [name, setName] = useState("");
  const [basis, setBasis] = useState("");
  const sign = async (go: "go_ahead" | "refuse") => {
    for (const { panel } of open) {
      await decision.mutateAsync({
        panel,
        concern: kind,
        decision: go,
        signed_by: name.trim(),
        basis: basis.trim(),
      });
    }
  };
  const ready = name.trim().length > 1 && basis.trim().length > 3;
  return (
    <fieldset className={classes.sign}>
      <legend>
        {page.concerns[kind]}: {open.map(({ panel }) => panel.replaceAll("_", " ")).join(", ")}
      </legend>
      <Note tone="caution" lines={[page.concernText[kind]]} />
      <TextInput
        label={page.signedBy}
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <TextInput
        label={page.basis[kind]}
        value={basis}
        onChange={(event) => setBasis(event.currentTarget.value)}
      />
      <div className={classes.buttons}>
        <Button
          disabled={!ready}
          loading={decision.isPending}
          onClick={() => void sign("go_ahead").catch(() => undefined)}
        >
          {page.goAhead}
        </Button>
        <Button
          variant="default"
          disabled={!ready}
          loading={decision.isPending}
          onClick={() => void sign("refuse").catch(() => undefined)}
        >
          {page.refuse}
        </Button>
      </div>
    </fieldset>
  );
}
