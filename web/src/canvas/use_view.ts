import {
  type KeyboardEvent,
  type PointerEvent,
  useCallback,
  useEffect,
  useRef,
  useState,
} from "react";
import { type Box, fit, screenPoint, type Size, type View, zoomAt } from "@/geometry/view";
import { useSize } from "./use_size";

const closest = 6; // px per mm: finer than any knife
const stepPixels = 60;

const opening = 0.72; // of the picture's height

/** From the roll's start, its width filling most of the height: near enough to read names. */
function across(box: Box, size: Size, margin: number): View {
  const across = Math.max(box.top - box.bottom, 1e-9);
  const scale = Math.max(1e-6, (opening * size.height) / across);
  return {
    x: Math.min(box.left + (size.width / 2 - margin) / scale, (box.left + box.right) / 2),
    y: (box.bottom + box.top) / 2,
    scale,
  };
}

/** A picture of film that can be moved and brought nearer by pointer, wheel and keys. */
export function useView(box: Box, margin: number) {
  const holder = useRef<HTMLDivElement>(null);
  const size = useSize(holder);
  const [chosen, setChosen] = useState<View>();
  const whole = fit(box, size, margin);
  const view =
    chosen ?? (across(box, size, margin).scale > whole.scale ? across(box, size, margin) : whole);
  const drag = useRef<{ x: number; y: number; view: View; moved: boolean }>(null);

  const latest = useRef({ view, whole, size });
  useEffect(() => {
    latest.current = { view, whole, size };
  });

  const zoom = useCallback((factor: number, at?: { x: number; y: number }) => {
    const now = latest.current;
    const scale = now.view.scale * factor;
    if (scale > closest) return;
    if (scale <= now.whole.scale) return setChosen(now.whole);
    const centre = at ?? { x: now.size.width / 2, y: now.size.height / 2 };
    setChosen(zoomAt(now.view, screenPoint(centre.x, centre.y), now.size, factor));
  }, []);

  // React listens to wheels passively, where the page cannot be kept from scrolling.
  useEffect(() => {
    const element = holder.current;
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      const corner = (element as HTMLElement).getBoundingClientRect();
      zoom(Math.exp(-event.deltaY * 0.0016), {
        x: event.clientX - corner.left,
        y: event.clientY - corner.top,
      });
    };
    element?.addEventListener("wheel", wheel, { passive: false });
    return () => element?.removeEventListener("wheel", wheel);
  }, [zoom]);

  const handlers = {
    onPointerDown: (event: PointerEvent<HTMLElement>) => {
      if (event.button === 0)
        drag.current = { x: event.clientX, y: event.clientY, view, moved: false };
    },
    onPointerMove: (event: PointerEvent<HTMLElement>) => {
      const from = drag.current;
      if (!from) return;
      const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
      if (!from.moved && Math.hypot(dx, dy) < 4) return;
      if (!from.moved) event.currentTarget.setPointerCapture(event.pointerId);
      from.moved = true;
      setChosen({
        ...from.view,
        x: from.view.x - dx / from.view.scale,
        y: from.view.y + dy / from.view.scale,
      });
    },
    onPointerUp: () => {
      drag.current = null;
    },
    onKeyDown: (event: KeyboardEvent) => {
      const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[
        event.key
      ];
      if (move)
        setChosen({
          ...view,
          x: view.x + ((move[0] ?? 0) * stepPixels) / view.scale,
          y: view.y + ((move[1] ?? 0) * stepPixels) / view.scale,
        });
      else if (event.key === "+" || event.key === "=") zoom(1.3);
      else if (event.key === "-") zoom(1 / 1.3);
      else if (event.key === "0") setChosen(whole);
      else return;
      event.preventDefault();
    },
  };
  return { holder, size, view, whole, setView: setChosen, zoom, handlers };
}

/** What the view shows of film space. */
export const shownBox = (view: View, size: Size): Box => ({
  left: view.x - size.width / 2 / view.scale,
  right: view.x + size.width / 2 / view.scale,
  bottom: view.y - size.height / 2 / view.scale,
  top: view.y + size.height / 2 / view.scale,
});
