import { SegmentedControl } from "@mantine/core";
import type { Job } from "@/api/client";
import { useReader } from "@/words/preferences";

interface RollChoiceProps {
  layouts: Job["films"][number]["layouts"];
  roll: string;
  onRoll: (roll: string) => void;
}

/** Which of the rolls and offcuts that a film is cut from is looked at. */
export function RollChoice({ layouts, roll, onRoll }: RollChoiceProps) {
  const { words, format } = useReader();
  return (
    <SegmentedControl
      fullWidth
      orientation="vertical"
      aria-label={words.rollPage.cutFrom}
      value={roll}
      onChange={onRoll}
      data={layouts.map((one) => ({
        value: one.roll,
        label: `${one.roll}, ${format.size(one.length_mm, one.width_mm)}`,
      }))}
    />
  );
}
