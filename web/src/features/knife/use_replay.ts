import { useEffect, useState } from "react";

/** A place in time that can be moved by hand or runs by itself, `speed` times as fast. */
export function useReplay(length: number, speed: number) {
  const [seconds, setSeconds] = useState(0);
  const [playing, setPlaying] = useState(false);

  useEffect(() => {
    if (!playing) return;
    let frame = 0;
    let before: number | undefined;
    const tick = (now: number) => {
      const passed = before === undefined ? 0 : (now - before) / 1000;
      before = now;
      setSeconds((at) => Math.min(length, at + passed * speed));
      frame = requestAnimationFrame(tick);
    };
    frame = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(frame);
  }, [playing, speed, length]);

  const atEnd = seconds >= length;
  if (playing && atEnd) setPlaying(false);

  return {
    seconds: Math.min(seconds, length),
    playing,
    moveTo: setSeconds,
    toggle: () => {
      if (!playing && atEnd) setSeconds(0);
      setPlaying(!playing);
    },
  };
}
