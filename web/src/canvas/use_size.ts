import { type RefObject, useEffect, useState } from "react";
import type { Size } from "@/geometry/view";

/** The element's size in CSS pixels, kept up to date; zero until it is known. */
export function useSize(element: RefObject<HTMLElement | null>): Size {
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useEffect(() => {
    const watched = element.current;
    if (!watched) return;
    const watcher = new ResizeObserver(() =>
      setSize({ width: watched.clientWidth, height: watched.clientHeight }),
    );
    watcher.observe(watched);
    return () => watcher.disconnect();
  }, [element]);
  return size;
}
