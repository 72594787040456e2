import { Button, NumberInput, Select, Textarea, TextInput } from "@mantine/core";
import { useMemo, useState } from "react";
import type { EdgeEdit, Job, JobPiece, Piece } from "@/api/client";
import { asProblem, useKeepEdits, useTriedEdits } from "@/api/queries";
import { PieceDrawing } from "@/canvas/piece_drawing";
import { EdgeTable } from "@/parts/edge_table";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { fromUnit, mm, toUnit } from "@/units/length";
import { useReader } from "@/words/preferences";
import { ringsOf } from "./rings";
import { middleOf, stretchesOf } from "./stretches";
import classes from "./pieces.module.css";

interface EdgeEditorProps {
  job: Job;
  piece: Piece;
  original: string | undefined; // name of the piece that this one follows
}

/** The drawing of a piece whose edges can be clicked, changed and kept. */
export function EdgeEditor({ job, piece, original }: EdgeEditorProps) {
  const { words } = useReader();
  const [edits, setEdits] = useState<readonly EdgeEdit[]>([]);
  const [picked, setPicked] = useState<string>();
  const tried = useTriedEdits(job.id, piece.id, edits);
  const shown = tried.data?.piece ?? piece;
  const rings = useMemo(() => ringsOf(shown), [shown]);
  const stretches = useMemo(() => stretchesOf(shown), [shown]);
  const edge = shown.edges.find(({ name }) => name === picked);
  const tuck = tried.data?.tucks.find((one) => one.edge === picked);
  const follows = piece.follows && original !== undefined;

  const change = (part: Omit<EdgeEdit, "edge">) => {
    if (edge === undefined) return;
    setEdits((before) => added(before, { edge: edge.name, ...part }));
    if (part.name !== undefined) setPicked(part.name);
  };
  const line = edge && stretches[shown.edges.indexOf(edge)];

  return (
    <>
      <div className={classes.large}>
        <PieceDrawing
          label={piece.name}
          {...rings}
          stretches={stretches.map((path, k) => ({ path, name: shown.edges[k]?.name ?? "" }))}
          picked={picked}
          onPick={follows ? undefined : setPicked}
        />
      </div>
      {follows && <Note tone="plain" lines={[words.piecesPage.followsNote(original)]} />}
      <EdgeTable edges={shown.edges} picked={picked} onPick={follows ? undefined : setPicked} />
      {tried.error && <Trouble error={tried.error} again={() => setEdits(edits.slice(0, -1))} />}
      {edge && (
        <StretchForm
          key={edge.name}
          edge={edge}
          allowance={wantedAllowance(edits, edge)}
          tuck={tuck}
          onChange={change}
          onDivide={() => {
            if (line === undefined) return;
            const [x, y] = middleOf(line);
            change({ divide_x: x, divide_y: y });
          }}
        />
      )}
      {edits.length > 0 && (
        <KeepForm
          job={job}
          piece={piece.id}
          edits={edits}
          onUndo={() => setEdits(edits.slice(0, -1))}
          onKept={() => setEdits([])}
        />
      )}
    </>
  );
}

/** The edits with one more; a value of the same stretch set again replaces the last one. */
function added(edits: readonly EdgeEdit[], edit: EdgeEdit): EdgeEdit[] {
  const last = edits.at(-1);
  const same =
    last !== undefined &&
    last.edge === edit.edge &&
    edit.divide_x === undefined &&
    edit.join_next === undefined &&
    Object.keys(last).sort().join() === Object.keys(edit).sort().join();
  return [...(same ? edits.slice(0, -1) : edits), edit];
}

type Edge = JobPiece["piece"]["edges"][number];

/** What was asked for last stands in the field at once, whatever the answer takes. */
const wantedAllowance = (edits: readonly EdgeEdit[], edge: Edge): number =>
  edits.findLast((one) => one.edge === edge.name && one.allowance_mm !== undefined)?.allowance_mm ??
  edge.allowance_mm;

interface StretchFormProps {
  edge: Edge;
  allowance: number; // mm
  tuck: { surplus_mm: number; lack_mm: number; slits: number } | undefined;
  onChange: (part: Omit<EdgeEdit, "edge">) => void;
  onDivide: () => void;
}

function StretchForm({ edge, allowance, tuck, onChange, onDivide }: StretchFormProps) {
  const { words, unit, format } = useReader();
  const [name, setName] = useState(edge.name);
  return (
    <section className={classes.stretch} aria-label={edge.name}>
      <TextInput
        label={words.bodyPage.edge}
        value={name}
        onChange={(event) => setName(event.currentTarget.value)}
        onBlur={() => name !== edge.name && name !== "" && onChange({ name })}
      />
      <NumberInput
        label={`${words.bodyPage.allowance} (${unit})`}
        value={Number(toUnit(mm(allowance), unit).toFixed(unit === "mm" ? 2 : 4))}
        step={unit === "mm" ? 0.5 : 0.0625}
        decimalScale={unit === "mm" ? 2 : 4}
        onChange={(value) => {
          const wanted = typeof value === "number" ? fromUnit(value, unit) : undefined;
          if (wanted !== undefined && Math.abs(wanted - allowance) > 1e-3) {
            onChange({ allowance_mm: wanted });
          }
        }}
      />
      <Select
        label={words.bodyPage.kind}
        allowDeselect={false}
        value={edge.kind}
        data={choices(words.edgeKinds)}
        onChange={(kind) => kind !== null && onChange({ kind })}
      />
      <Select
        label={words.piecesPage.cornerAtStart}
        allowDeselect={false}
        value={edge.corner}
        data={choices(words.corners)}
        onChange={(corner) => corner !== null && onChange({ corner })}
      />
      {tuck && (
        <p>
          {words.piecesPage.tuck(
            format.allowance(tuck.surplus_mm),
            format.allowance(tuck.lack_mm),
            tuck.slits,
          )}
        </p>
      )}
      <div className={classes.actions}>
        <Button variant="default" size="compact-sm" onClick={onDivide}>
          {words.piecesPage.divide}
        </Button>
        <Button variant="default" size="compact-sm" onClick={() => onChange({ join_next: 1 })}>
          {words.piecesPage.joinNext}
        </Button>
      </div>
    </section>
  );
}

const choices = <T extends string>(names: Record<T, string>) =>
  (Object.keys(names) as T[]).map((value) => ({ value, label: names[value] }));

interface KeepFormProps {
  job: Job;
  piece: string;
  edits: readonly EdgeEdit[];
  onUndo: () => void;
  onKept: () => void;
}

/** Keeps the edits: in this job at once, or as a proposal that someone decides on. */
function KeepForm({ job, piece, edits, onUndo, onKept }: KeepFormProps) {
  const { words } = useReader();
  const [note, setNote] = useState("");
  const keep = useKeepEdits(job.id, job.vehicle);
  const send = (standing: "accepted" | "proposed") =>
    keep.mutate({ piece, edits: [...edits], note, standing }, { onSuccess: onKept });
  return (
    <section className={classes.stretch} aria-label={words.piecesPage.keepTitle}>
      <Textarea
        label={words.piecesPage.note}
        value={note}
        autosize
        maxRows={4}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      {keep.error && <Trouble error={asProblem(keep.error)} again={() => keep.reset()} />}
      <div className={classes.actions}>
        <Button
          size="compact-sm"
          disabled={note === ""}
          loading={keep.isPending}
          onClick={() => send("accepted")}
        >
          {words.piecesPage.keepHere}
        </Button>
        <Button
          size="compact-sm"
          variant="default"
          disabled={note === "" || keep.isPending}
          onClick={() => send("proposed")}
        >
          {words.piecesPage.propose}
        </Button>
        <Button size="compact-sm" variant="subtle" onClick={onUndo}>
          {words.piecesPage.undo}
        </Button>
      </div>
    </section>
  );
}
