import { Anchor, Button, FileInput, NumberInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { markerBoardAddress, type PhotoOutlines } from "@/api/client";
import { useTracePhoto } from "@/api/queries";
import { Dialog } from "@/parts/dialog";
import { Trouble } from "@/parts/trouble";
import { Figure } from "@/ui/figure";
import { Note } from "@/ui/note";
import { fromUnit, mm, toUnit } from "@/units/length";
import { typedNumber } from "@/units/typed_number";
import { useReader } from "@/words/preferences";
import { sentence } from "@/words/format";
import { boxOf, heightOf, widthOf } from "@/geometry/view";
import { ringsOf } from "./rings";
import classes from "./photo_sheet.module.css";

const drawnCheck = mm(240);
const drawnCheckAcross = mm(170);

interface PhotoSheetProps {
  opened: boolean;
  onClose: () => void;
}

/** A photo of a template on the marker board, traced and looked at before it is saved. */
export function PhotoSheet({ opened, onClose }: PhotoSheetProps) {
  const { words } = useReader();
  return (
    <Dialog opened={opened} onClose={onClose} size="xl" title={words.photo.title}>
      <PhotoForm />
    </Dialog>
  );
}

function PhotoForm() {
  const { words, format } = useReader();
  const { unit } = format;
  const [photo, setPhoto] = useState<File | null>(null);
  const [picture, setPicture] = useState("");
  const [name, setName] = useState("");
  const [check, setCheck] = useState<string | number>("");
  const [across, setAcross] = useState<string | number>("");
  const [thickness, setThickness] = useState<string | number>(toUnit(mm(0.2), unit));
  const trace = useTracePhoto();

  const lengthInput = {
    decimalScale: unit === "mm" ? 2 : 4,
    min: 0,
    suffix: ` ${unit}`,
    hideControls: true,
  };
  const inMm = (value: string | number) => {
    const typed = typedNumber(value);
    return typed === undefined ? undefined : fromUnit(typed, unit);
  };
  const checked = inMm(check);
  const digits = unit === "mm" ? 0 : 3;
  return (
    <div className={classes.sheet}>
      <p>{words.photo.how}</p>
      <p className={classes.boards}>
        {(["a4", "letter"] as const).map((paper) => (
          <Anchor key={paper} href={markerBoardAddress(paper)} target="_blank">
            {words.photo.board(paper === "a4" ? "A4" : "Letter")}
          </Anchor>
        ))}
      </p>
      <form
        className={classes.form}
        onSubmit={(event) => {
          event.preventDefault();
          if (!photo || checked === undefined) return;
          trace.mutate({
            photo,
            name: name.trim(),
            check: checked,
            checkAcross: inMm(across),
            thickness: inMm(thickness) ?? mm(0.2),
          });
        }}
      >
        <FileInput
          label={words.photo.photo}
          placeholder={words.photo.pick}
          accept="image/jpeg,image/png"
          value={photo}
          onChange={(file) => {
            setPhoto(file);
            URL.revokeObjectURL(picture);
            setPicture(file ? URL.createObjectURL(file) : "");
            trace.reset();
          }}
          required
        />
        <TextInput
          label={words.photo.name}
          value={name}
          maxLength={100}
          onChange={(event) => setName(event.currentTarget.value)}
        />
        <NumberInput
          {...lengthInput}
          label={words.photo.check(format.length(drawnCheck, digits))}
          value={check}
          onChange={setCheck}
          required
        />
        <NumberInput
          {...lengthInput}
          label={words.photo.checkAcross(format.length(drawnCheckAcross, digits))}
          value={across}
          onChange={setAcross}
        />
        <NumberInput
          {...lengthInput}
          label={words.photo.thickness}
          value={thickness}
          onChange={setThickness}
        />
        <Button type="submit" loading={trace.isPending} disabled={!photo || checked === undefined}>
          {words.photo.trace}
        </Button>
      </form>
      {trace.isPending && <p role="status">{words.photo.tracing}</p>}
      {trace.error && <Trouble error={trace.error} />}
      {trace.data && <Traced traced={trace.data} picture={picture} />}
    </div>
  );
}

function Traced({ traced, picture }: { traced: PhotoOutlines; picture: string }) {
  const { words, format } = useReader();
  const lines = traced.outlines
    .flatMap(({ in_photo }) => in_photo)
    .map((ring) => `M${ring.map(([x, y]) => `${x} ${y}`).join("L")}Z`)
    .join("");
  const small = (value: number) => format.length(value, format.unit === "mm" ? 2 : 3);
  return (
    <section className={classes.traced}>
      <svg
        viewBox={`0 0 ${traced.width} ${traced.height}`}
        role="img"
        aria-label={words.photo.traced}
      >
        <image href={picture} width={traced.width} height={traced.height} />
        <path d={lines} strokeWidth={traced.width / 500} />
      </svg>
      {traced.notes.length > 0 && <Note tone="caution" lines={traced.notes.map(sentence)} />}
      <p>{words.photo.seen(traced.markers, traced.sheets.length)}</p>
      <ul>
        {traced.outlines.map(({ piece, ...error }) => {
          const box = boxOf(ringsOf(piece).fold);
          return (
            <li key={piece.id}>
              <h3>{piece.name}</h3>
              <div className={classes.figures}>
                <Figure
                  size="small"
                  label={words.piecesPage.size}
                  value={format.size(widthOf(box), heightOf(box))}
                />
                <Figure
                  size="small"
                  label={words.photo.expected}
                  value={small(error.expected_error_mm)}
                />
              </div>
              <p>
                {words.photo.within}{" "}
                {words.photo.parts(
                  small(error.from_camera_mm),
                  small(error.from_edge_mm),
                  small(error.from_print_scale_mm),
                  small(error.from_thickness_mm),
                )}
              </p>
            </li>
          );
        })}
      </ul>
      <Button
        component="a"
        href={`data:application/json,${encodeURIComponent(traced.document)}`}
        download={`${traced.outlines[0]?.piece.id ?? "template"}.json`}
        variant="default"
      >
        {words.photo.save}
      </Button>
    </section>
  );
}
