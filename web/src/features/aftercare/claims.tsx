import { Button, Checkbox, Radio, Select, Textarea, TextInput } from "@mantine/core";
import { useState } from "react";
import {
  type Claim,
  claimReportAddress,
  type Installation,
  type RulingKind,
  useOpenClaim,
  useRuleClaim,
} from "@/api/installation_queries";
import { useIsOne } from "@/api/session";
import { EntryForm } from "@/parts/entry_form";
import { PhotoField, Photos } from "@/parts/photo_field";
import { useReader } from "@/words/preferences";
import { Mending } from "./mending";
import classes from "./aftercare.module.css";

/** What came back: each claim with its decision and what follows from it, and a new one. */
export function Claims({ installation }: { installation: Installation }) {
  const { words } = useReader();
  const mayClaim = useIsOne("lead", "desk");
  const [adding, setAdding] = useState(false);
  const on = installation.pieces.filter(({ replaced_by }) => replaced_by === 0);
  return (
    <section className={classes.claims} aria-label={words.claims.title}>
      <h3>{words.claims.title}</h3>
      {installation.claims.length === 0 && <p className={classes.soft}>{words.claims.none}</p>}
      {installation.claims.map((claim) => (
        <ClaimView key={claim.id} claim={claim} installation={installation} />
      ))}
      {mayClaim && on.length > 0 && (
        <>
          {adding ? (
            <NewClaim installation={installation} onDone={() => setAdding(false)} />
          ) : (
            <div>
              <Button onClick={() => setAdding(true)}>{words.claims.report}</Button>
            </div>
          )}
        </>
      )}
    </section>
  );
}

function NewClaim({ installation, onDone }: { installation: Installation; onDone: () => void }) {
  const { words } = useReader();
  const page = words.claims;
  const open = useOpenClaim(installation.job);
  const [piece, setPiece] = useState<string | null>(null);
  const [what, setWhat] = useState("");
  const [by, setBy] = useState(installation.customer);
  const [photos, setPhotos] = useState<readonly string[]>([]);
  return (
    <EntryForm
      label={page.report}
      submit={page.keep}
      onSubmit={() =>
        open.mutate(
          {
            piece: Number(piece),
            what: what.trim(),
            reported_by: by.trim(),
            photos: [...photos],
          },
          { onSuccess: onDone },
        )
      }
      busy={open.isPending}
      error={open.error}
      disabled={piece === null || what.trim().length < 4 || by.trim() === ""}
    >
      <Select
        label={page.which}
        value={piece}
        onChange={setPiece}
        data={installation.pieces
          .filter(({ replaced_by }) => replaced_by === 0)
          .map(({ number, panel_name, lot }) => ({
            value: String(number),
            label: `P-${number} · ${panel_name} · ${words.aftercare.kinds.lot} ${lot}`,
          }))}
        searchable
        required
      />
      <Textarea
        label={page.what}
        value={what}
        maxLength={2000}
        autosize
        minRows={2}
        onChange={(event) => setWhat(event.currentTarget.value)}
        required
      />
      <TextInput
        label={page.by}
        value={by}
        maxLength={240}
        onChange={(event) => setBy(event.currentTarget.value)}
        required
      />
      <PhotoField
        job={installation.job}
        about={what.trim() || page.report}
        photos={photos}
        onAdd={(hash) => setPhotos([...photos, hash])}
      />
    </EntryForm>
  );
}

interface ClaimViewProps {
  claim: Claim;
  installation: Installation;
}

function ClaimView({ claim, installation }: ClaimViewProps) {
  const { words, format, language, unit } = useReader();
  const page = words.claims;
  const mayRule = useIsOne("lead");
  const [ruling, setRuling] = useState(false);
  const piece = installation.pieces.find(({ number }) => number === claim.piece);
  const last = claim.rulings.at(-1);
  return (
    <article className={classes.claim} aria-label={`${words.aftercare.kinds.claim} ${claim.id}`}>
      <header>
        <h4>
          {words.aftercare.kinds.claim} {claim.id} · P-{claim.piece} {piece?.panel_name}
        </h4>
        <a
          href={`${claimReportAddress(claim.id)}?language=${language}&unit=${unit}`}
          target="_blank"
          rel="noreferrer"
        >
          {page.paper} (PDF)
        </a>
      </header>
      <p>{claim.what}</p>
      <p className={classes.soft}>
        {claim.reported_by} · {format.instant(claim.at)}
        {piece && ` · ${words.aftercare.kinds.lot} ${piece.lot}`}
      </p>
      {claim.photos.length > 0 && (
        <div className={classes.photos}>
          <Photos photos={claim.photos} about={claim.what} />
        </div>
      )}
      <ul className={classes.rulings} aria-label={page.rulings}>
        {claim.rulings.map((one, index) => (
          <li key={index} data-counts={one === last}>
            <strong>{page.kinds[one.ruling]}</strong>
            {one.recut && ` · ${page.recut}`}
            <span>
              {one.reason} · {one.who}, {format.day(one.at)}
            </span>
          </li>
        ))}
      </ul>
      {mayRule &&
        (ruling || !last ? (
          <RulingForm claim={claim} onDone={() => setRuling(false)} />
        ) : (
          <div>
            <Button variant="default" size="compact-sm" onClick={() => setRuling(true)}>
              {page.ruleAgain}
            </Button>
          </div>
        ))}
      {last?.recut && piece && (
        <Mending claim={claim} piece={piece} installation={installation} reason={claim.what} />
      )}
    </article>
  );
}

const kinds: readonly RulingKind[] = ["warranty", "goodwill", "declined"];

function RulingForm({ claim, onDone }: { claim: Claim; onDone: () => void }) {
  const { words } = useReader();
  const page = words.claims;
  const rule = useRuleClaim(claim);
  const [kind, setKind] = useState<RulingKind>();
  const [reason, setReason] = useState("");
  const [recut, setRecut] = useState<boolean>();
  const isRecut = recut ?? (kind !== undefined && kind !== "declined");
  return (
    <EntryForm
      label={`${page.rule} ${claim.id}`}
      submit={page.rule}
      onSubmit={() =>
        kind &&
        rule.mutate({ ruling: kind, reason: reason.trim(), recut: isRecut }, { onSuccess: onDone })
      }
      busy={rule.isPending}
      error={rule.error}
      disabled={!kind || reason.trim().length < 4}
    >
      <Radio.Group
        label={page.decision}
        value={kind ?? ""}
        onChange={(value) => setKind(kinds.find((one) => one === value))}
      >
        <div className={classes.answers}>
          {kinds.map((one) => (
            <Radio key={one} value={one} label={page.kinds[one]} />
          ))}
        </div>
      </Radio.Group>
      <Textarea
        label={page.reason}
        value={reason}
        maxLength={2000}
        autosize
        onChange={(event) => setReason(event.currentTarget.value)}
        required
      />
      <Checkbox
        label={page.recut}
        checked={isRecut}
        onChange={(event) => setRecut(event.currentTarget.checked)}
      />
    </EntryForm>
  );
}
