import { Anchor, Button, Checkbox, Chip, Group, Radio, TextInput } from "@mantine/core";
import { useId, useState } from "react";
import { Link } from "wouter";
import type { RecutPlace, RecutReason, RecutReplan } from "@/api/client";
import { recutPlotAddress, useRecut, useRecutPlaces } from "@/api/stock_queries";
import { Trouble } from "@/parts/trouble";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import { Dialog } from "./dialog";
import { OutlinePicture } from "./outline_picture";
import classes from "./parts.module.css";

interface RecutSheetProps {
  job: string;
  piece: string;
  /** What people call the piece. */
  name: string;
  /** The claim that it answers. */
  claim?: string;
  onClose: () => void;
}

const reasons: readonly RecutReason[] = [
  "crease",
  "torn",
  "dirt",
  "misplaced",
  "miscut",
  "flawed",
  "damaged",
  "lifted",
  "aged",
];

/** A piece made again: the reason, the best place, done. */
export function RecutSheet({ job, piece, name, claim, onClose }: RecutSheetProps) {
  const { words } = useReader();
  return (
    <Dialog title={words.recut.title(name)} onClose={onClose} size="lg">
      <RecutForm job={job} piece={piece} claim={claim} />
    </Dialog>
  );
}

function RecutForm({
  job,
  piece,
  claim,
}: Pick<RecutSheetProps, "job" | "piece"> & { claim: string | undefined }) {
  const { words, format } = useReader();
  const places = useRecutPlaces(job, piece);
  const recut = useRecut(job, claim);
  const [reason, setReason] = useState<RecutReason>(claim ? "lifted" : "crease");
  const [note, setNote] = useState("");
  const [stock, setStock] = useState<string>();
  const [keep, setKeep] = useState(true);
  const why = useId();
  const place = places.data?.find((one) => one.stock === stock) ?? places.data?.[0];

  if (recut.data) {
    const { recut: done, seconds, plan } = recut.data;
    return (
      <div className={classes.recut} role="status">
        <Note
          tone="plain"
          lines={[
            words.recut.done(done.id),
            `${done.stock}, ${words.benchPage.lot} ${done.lot}, ${format.length(done.used_mm)}; ${words.recut.seconds} ${format.duration(seconds)}`,
          ]}
        />
        {done.run ? (
          <p>{words.recut.sent}</p>
        ) : (
          <Anchor href={recutPlotAddress(done.id)} download>
            {words.recut.download}
          </Anchor>
        )}
        {plan && <PlanNote plan={plan} />}
      </div>
    );
  }
  return (
    <form
      className={classes.recut}
      onSubmit={(event) => {
        event.preventDefault();
        if (!place) return;
        recut.mutate({ piece, reason, note: note.trim(), stock: place.stock, keep_rests: keep });
      }}
    >
      <div>
        <div id={why}>{words.recut.reason}</div>
        <Group gap={8} role="group" aria-labelledby={why} mt={8}>
          {reasons.map((one) => (
            <Chip
              key={one}
              type="radio"
              variant="outline"
              name="reason"
              checked={one === reason}
              onChange={() => setReason(one)}
            >
              {words.recut.reasons[one]}
            </Chip>
          ))}
        </Group>
      </div>
      <TextInput
        label={words.recut.note}
        value={note}
        maxLength={200}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      {places.error && <Trouble error={places.error} again={() => void places.refetch()} />}
      {places.isPending && <p aria-busy="true">{words.waiting}</p>}
      {places.data?.length === 0 && <Note tone="caution" lines={[words.recut.none]} />}
      {places.data && places.data.length > 0 && (
        <Radio.Group label={words.recut.place} value={place?.stock ?? ""} onChange={setStock}>
          <div className={classes.recutPlaces}>
            {places.data.map((one) => (
              <PlaceLine key={one.stock} place={one} />
            ))}
          </div>
        </Radio.Group>
      )}
      {place && place.rests > 0 && (
        <Checkbox
          label={words.recut.keep(place.rests)}
          checked={keep}
          onChange={(event) => setKeep(event.currentTarget.checked)}
        />
      )}
      {recut.error && <Trouble error={recut.error} again={() => recut.reset()} />}
      <Button type="submit" size="md" loading={recut.isPending} disabled={!place}>
        {words.recut.go}
      </Button>
    </form>
  );
}

/** What the recut did to the shop's plan. */
function PlanNote({ plan }: { plan: RecutReplan }) {
  const { words, format } = useReader();
  const lines = plan.refused
    ? [words.recut.planStays(plan.refused)]
    : [
        words.recut.again(plan.again.join(", ")),
        ...(plan.end ? [words.recut.vehicleDone(format.moment(plan.end))] : []),
        words.recut.moved(plan.moved, plan.open),
        ...plan.slips.map(words.recut.breaks),
      ];
  const quiet = !plan.refused && plan.slips.length === 0;
  return (
    <>
      <Note tone={quiet ? "plain" : "caution"} lines={lines} />
      <Anchor component={Link} to="/plan">
        {words.recut.openPlan}
      </Anchor>
    </>
  );
}

function PlaceLine({ place }: { place: RecutPlace }) {
  const { words, format } = useReader();
  const across = Math.max(1500, ...place.sheet.outer.map(([x]) => x ?? 0));
  const kind = place.offcut ? words.recut.offcut : words.recut.roll;
  return (
    <div className={classes.recutPlace}>
      <OutlinePicture
        label={`${kind} ${place.stock}`}
        outline={place.sheet}
        across={across}
        gone={place.not_film}
        piece={place.piece}
      />
      <Radio
        value={place.stock}
        label={`${kind} ${place.stock}`}
        description={[
          `${words.benchPage.lot} ${place.lot}`,
          place.place,
          `${format.area(place.waste_mm2)} ${words.recut.waste}`,
        ]
          .filter(Boolean)
          .join(" · ")}
      />
    </div>
  );
}
