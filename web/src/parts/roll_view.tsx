import { ActionIcon } from "@mantine/core";
import { type PointerEvent, type ReactNode, useRef } from "react";
import { type LaidShape, RollPicture } from "@/canvas/roll_picture";
import { Ruler } from "@/canvas/ruler";
import { useSize } from "@/canvas/use_size";
import { shownBox, useView } from "@/canvas/use_view";
import { type Box, fit, screenPoint, type Size, toFilm, type View } from "@/geometry/view";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

interface RollViewProps {
  label: string;
  width: number;
  length: number;
  shapes: readonly LaidShape[];
  picked?: string | undefined;
  onPick?: ((key: string | undefined) => void) | undefined;
  /** Whether the pieces carry their names in the nearer picture. */
  names: boolean;
  /** Drawn over the nearer picture in its view. */
  over?: (view: View, size: Size) => ReactNode;
}

const rollUnits = { mm: 1000, in: 304.8 };

/** The whole roll as a strip, and a nearer picture of the part framed on it. */
export function RollView(props: RollViewProps) {
  const { width, length, shapes, picked } = props;
  const { words, format } = useReader();
  const box: Box = { left: 0, bottom: 0, right: Math.max(length, width), top: width };
  const { holder, size, view, whole, setView, zoom, handlers } = useView(box, 34);
  const shown = shownBox(view, size);
  const unit = format.unit === "mm" ? "m" : "ft";
  return (
    <div className={classes.rollView}>
      <Strip {...props} box={box} shown={shown} onCentre={setView} scale={view.scale} />
      <div
        ref={holder}
        className={classes.near}
        tabIndex={0}
        role="group"
        aria-label={words.rollPage.part}
        {...handlers}
      >
        <RollPicture
          label={props.label}
          width={width}
          length={length}
          shapes={shapes}
          box={shown}
          picked={picked}
          names={props.names ? view : undefined}
          onPick={props.onPick}
        />
        {props.over?.(view, size)}
        <Ruler
          view={view}
          size={size}
          unit={rollUnits[format.unit]}
          write={(count) => `${format.number(count, Number.isInteger(count) ? 0 : 1)}\u00a0${unit}`}
        />
      </div>
      <div className={classes.zoom}>
        <ActionIcon
          variant="default"
          size={34}
          aria-label={words.rollPage.zoomIn}
          onClick={() => zoom(1.5)}
        >
          <Icon name="plus" />
        </ActionIcon>
        <ActionIcon
          variant="default"
          size={34}
          aria-label={words.rollPage.zoomOut}
          onClick={() => zoom(1 / 1.5)}
        >
          <Icon name="minus" />
        </ActionIcon>
        <ActionIcon
          variant="default"
          size={34}
          aria-label={words.rollPage.fit}
          onClick={() => setView(whole)}
        >
          <Icon name="whole" />
        </ActionIcon>
      </div>
    </div>
  );
}

interface StripProps extends RollViewProps {
  box: Box;
  shown: Box;
  scale: number;
  onCentre: (view: View) => void;
}

function Strip({ box, shown, scale, onCentre, ...props }: StripProps) {
  const { words } = useReader();
  const holder = useRef<HTMLDivElement>(null);
  const size = useSize(holder);
  const view = fit(box, size, 0);
  const centre = (event: PointerEvent<HTMLDivElement>) => {
    if (event.buttons !== 1) return;
    const corner = event.currentTarget.getBoundingClientRect();
    const at = screenPoint(event.clientX - corner.left, event.clientY - corner.top);
    const { x, y } = toFilm(at, view, size);
    onCentre({ x, y, scale });
  };
  const left = Math.max(shown.left, box.left);
  const low = Math.max(shown.bottom, box.bottom);
  return (
    <div
      ref={holder}
      className={classes.strip}
      onPointerDown={centre}
      onPointerMove={centre}
      style={{ aspectRatio: `${box.right} / ${box.top}` }}
    >
      <RollPicture
        label={words.rollPage.whole}
        width={props.width}
        length={props.length}
        shapes={props.shapes}
        box={shownBox(view, size)}
        picked={props.picked}
      >
        <rect
          className={classes.framed}
          x={left}
          y={low}
          width={Math.max(0, Math.min(shown.right, box.right) - left)}
          height={Math.max(0, Math.min(shown.top, box.top) - low)}
        />
      </RollPicture>
    </div>
  );
}
