import { ActionIcon } from "@mantine/core";
import { type KeyboardEvent, type PointerEvent, type ReactNode, useRef } from "react";
import { type LaidShape, RollPicture } from "@/canvas/roll_picture";
import { Ruler } from "@/canvas/ruler";
import { useSize } from "@/canvas/use_size";
import { shownBox, useView } from "@/canvas/use_view";
import {
  type Box,
  fit,
  type FilmPoint,
  screenPoint,
  type Size,
  toFilm,
  type View,
} from "@/geometry/view";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import { TakePicture } from "./take_picture";
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
  /** Drawn among the pieces, in film space, in both pictures. */
  beside?: ReactNode;
  /** What takes up pieces; without it they lie still. */
  hand?: Hand | undefined;
}

/** A hand that moves what carries a data-key. Points are on the film. */
export interface Hand {
  /** Whether it takes up this thing; else the view moves. */
  take: (key: string, at: FilmPoint) => boolean;
  /** `near` is what looks like a small step on the screen, in mm; `free` wants no snapping. */
  carry: (at: FilmPoint, near: number, free: boolean) => void;
  put: () => void;
  /** A key pressed on the picture; whether it was meant for the hand. */
  press: (event: KeyboardEvent) => boolean;
}

const startPixels = 4;
const nearPixels = 9;

const rollUnits = { mm: 1000, in: 304.8 };

/** The whole roll as a strip, and a nearer picture of the part framed on it. */
export function RollView(props: RollViewProps) {
  const { width, length, shapes, picked } = props;
  const { words, format } = useReader();
  const box: Box = { left: 0, bottom: 0, right: Math.max(length, width), top: width };
  const { holder, size, view, whole, setView, zoom, handlers } = useView(box, 34);
  const shown = shownBox(view, size);
  const handling = useHand(props.hand, view, size, handlers);
  const unit = format.unit === "mm" ? "m" : "ft";
  return (
    <div className={classes.rollView}>
      <Strip
        {...props}
        box={box}
        shown={shown}
        onCentre={setView}
        onKey={handlers.onKeyDown}
        scale={view.scale}
      />
      <div
        ref={holder}
        className={classes.near}
        tabIndex={0}
        role="group"
        aria-label={words.rollPage.part}
        {...handling}
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
        >
          {props.beside}
        </RollPicture>
        {props.over?.(view, size)}
        <Ruler
          view={view}
          size={size}
          unit={rollUnits[format.unit]}
          write={(count) => `${format.number(count, Number.isInteger(count) ? 0 : 1)}\u00a0${unit}`}
        />
      </div>
      <div className={classes.zoom}>
        <TakePicture of={holder} name={props.label} />
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

type Handlers = ReturnType<typeof useView>["handlers"];

/** Presses on things go to the hand, all others to the view. */
function useHand(hand: Hand | undefined, view: View, size: Size, handlers: Handlers): Handlers {
  const taken = useRef<{ x: number; y: number; moved: boolean }>(null);
  if (!hand) return handlers;
  const at = (event: PointerEvent<HTMLElement>) => {
    const corner = event.currentTarget.getBoundingClientRect();
    return toFilm(screenPoint(event.clientX - corner.left, event.clientY - corner.top), view, size);
  };
  return {
    onPointerDown: (event) => {
      const key = (event.target as Element).closest("[data-key]")?.getAttribute("data-key");
      if (event.button === 0 && key && hand.take(key, at(event)))
        taken.current = { x: event.clientX, y: event.clientY, moved: false };
      else handlers.onPointerDown(event);
    },
    onPointerMove: (event) => {
      const from = taken.current;
      if (!from) return handlers.onPointerMove(event);
      const far = Math.hypot(event.clientX - from.x, event.clientY - from.y) >= startPixels;
      if (!from.moved && !far) return;
      if (!from.moved) event.currentTarget.setPointerCapture(event.pointerId);
      from.moved = true;
      hand.carry(at(event), nearPixels / view.scale, event.altKey);
    },
    onPointerUp: () => {
      if (taken.current?.moved) hand.put();
      taken.current = null;
      handlers.onPointerUp();
    },
    onKeyDown: (event) => {
      if (hand.press(event)) event.preventDefault();
      else handlers.onKeyDown(event);
    },
  };
}

interface StripProps extends RollViewProps {
  box: Box;
  shown: Box;
  scale: number;
  onCentre: (view: View) => void;
  /** Moves the part that is shown nearer. */
  onKey: (event: KeyboardEvent) => void;
}

function Strip({ box, shown, scale, onCentre, onKey, ...props }: StripProps) {
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
      tabIndex={0}
      role="group"
      aria-label={words.rollPage.strip}
      onKeyDown={onKey}
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
        {props.beside}
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
