import { Autocomplete, Button, TextInput } from "@mantine/core";
import { useState } from "react";
import { useCards } from "@/api/queries";
import {
  type Claim,
  type Installation,
  type TracedPiece,
  useIssueCertificate,
  useReplacePiece,
} from "@/api/installation_queries";
import { useIsOne } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { RecutSheet } from "@/parts/recut_sheet";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import classes from "./aftercare.module.css";

interface MendingProps {
  claim: Claim;
  piece: TracedPiece;
  installation: Installation;
  /** Why the piece came off. */
  reason: string;
}

/** What a claim that was taken leads to: the piece cut again, laid, and certified anew. */
export function Mending({ claim, piece, installation, reason }: MendingProps) {
  const { words } = useReader();
  const page = words.claims;
  const onFloor = useIsOne("lead", "cutter", "installer");
  const mayCertify = useIsOne("lead", "desk");
  const certify = useIssueCertificate(installation.job);
  const [cutting, setCutting] = useState(false);
  const isCut = claim.recuts.length > 0 || piece.replaced_by !== 0;
  const isOff = piece.replaced_by !== 0;
  const successor = installation.pieces.find(({ number }) => number === piece.replaced_by);
  const isCertified = installation.certificates.some(
    ({ issued }) => successor !== undefined && issued >= successor.at,
  );
  return (
    <ol className={classes.mending} aria-label={`${page.mending} ${claim.id}`}>
      <li data-done={isCut}>
        <span>{isCut ? page.isCut(claim.recuts.join(", ")) : page.cutAgain}</span>
        {!isCut && onFloor && (
          <Button variant="default" size="compact-sm" onClick={() => setCutting(true)}>
            {words.recut.open}
          </Button>
        )}
      </li>
      <li data-done={isOff}>
        <span>{successor ? page.laidAgain(successor.number, successor.lot) : page.layAgain}</span>
        {!isOff && onFloor && (
          <LaidForm job={installation.job} piece={piece} reason={reason} label={page.isLaid} />
        )}
      </li>
      <li data-done={isCertified}>
        <span>{page.newCertificate}</span>
        {isOff && !isCertified && mayCertify && installation.state === "handed_over" && (
          <Button
            variant="default"
            size="compact-sm"
            loading={certify.isPending}
            onClick={() => certify.mutate()}
          >
            {page.issue}
          </Button>
        )}
        {certify.error && <Trouble error={certify.error} again={() => certify.reset()} />}
      </li>
      {cutting && (
        <RecutSheet
          job={installation.job}
          piece={piece.piece}
          name={piece.panel_name}
          claim={claim.id}
          onClose={() => setCutting(false)}
        />
      )}
    </ol>
  );
}

interface LaidFormProps {
  job: string;
  piece: TracedPiece;
  reason: string;
  label: string;
}

/** Takes down that the new piece lies, and what it came from. */
function LaidForm({ job, piece, reason, label }: LaidFormProps) {
  const { words } = useReader();
  const cards = useCards(job);
  const replace = useReplacePiece(job);
  const sources = cards.data?.sources.filter(({ film }) => film === piece.film) ?? [];
  const [source, setSource] = useState("");
  const [typedLot, setTypedLot] = useState<string>();
  const lot = typedLot ?? sources.find(({ id }) => id === source)?.lot ?? "";
  return (
    <EntryForm
      inline
      label={label}
      submit={label}
      onSubmit={() =>
        replace.mutate({
          panel: piece.panel,
          piece: piece.piece,
          source,
          lot,
          replaces: piece.number,
          reason,
        })
      }
      busy={replace.isPending}
      error={replace.error}
      disabled={source === "" || lot === ""}
    >
      <Autocomplete
        label={words.card.source}
        data={sources.map(({ id }) => id)}
        value={source}
        onChange={setSource}
        required
      />
      <TextInput
        label={words.card.lot}
        value={lot}
        onChange={(event) => setTypedLot(event.currentTarget.value)}
        required
      />
    </EntryForm>
  );
}
