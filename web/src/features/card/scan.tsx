import { Button } from "@mantine/core";
import { useEffect, useRef, useState } from "react";
import { useReader } from "@/words/preferences";
import classes from "./card.module.css";

/** As in the W3C draft of the Shape Detection API; few browsers have it. */
interface Detector {
  detect: (source: HTMLVideoElement) => Promise<{ rawValue: string }[]>;
}
type DetectorClass = new () => Detector;

const detectorClass = () =>
  (window as unknown as { BarcodeDetector?: DetectorClass }).BarcodeDetector;

export const canScan = () =>
  detectorClass() !== undefined && navigator.mediaDevices?.getUserMedia !== undefined;

interface ScanProps {
  onRead: (text: string) => void;
  onClose: () => void;
}

/** The camera, looking for a label. */
export function Scan({ onRead, onClose }: ScanProps) {
  const { words } = useReader();
  const video = useRef<HTMLVideoElement>(null);
  const [refused, setRefused] = useState(false);
  useEffect(() => {
    const Class = detectorClass();
    const screen = video.current;
    if (!Class || !screen) return;
    const detector = new Class();
    let stream: MediaStream | undefined;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    const look = async () => {
      const [found] = await detector.detect(screen).catch(() => []);
      if (gone) return;
      if (found) onRead(found.rawValue);
      else timer = setTimeout(() => void look(), 200);
    };
    navigator.mediaDevices
      .getUserMedia({ video: { facingMode: "environment" } })
      .then(async (opened) => {
        stream = opened;
        if (gone) return stop();
        screen.srcObject = opened;
        await screen.play();
        void look();
      })
      .catch(() => setRefused(true));
    const stop = () => stream?.getTracks().forEach((track) => track.stop());
    return () => {
      gone = true;
      clearTimeout(timer);
      stop();
    };
  }, [onRead]);
  return (
    <div className={classes.scan}>
      {refused ? (
        <p>{words.card.noCamera}</p>
      ) : (
        <video ref={video} muted playsInline aria-label={words.card.scanning} />
      )}
      <Button size="lg" variant="default" onClick={onClose}>
        {words.close}
      </Button>
    </div>
  );
}
