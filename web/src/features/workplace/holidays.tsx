import { Button, TextInput } from "@mantine/core";
import { useState } from "react";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import type { PartProps } from "./part";
import classes from "./workplace.module.css";

/** Dates on which nobody's shift begins. */
export function Holidays({ place, set }: PartProps) {
  const { words, format } = useReader();
  const [date, setDate] = useState("");
  const holidays = place.holidays ?? [];
  const put = (dates: string[]) => set({ ...place, holidays: [...new Set(dates)].sort() });
  return (
    <Sheet title={words.workplace.holidays}>
      <ul className={classes.dates}>
        {holidays.map((one) => (
          <li key={one}>
            {format.calendarDay(one)}
            <Button
              size="compact-xs"
              variant="subtle"
              color="red"
              aria-label={words.workplace.remove(format.calendarDay(one))}
              onClick={() => put(holidays.filter((other) => other !== one))}
            >
              ×
            </Button>
          </li>
        ))}
      </ul>
      <div className={classes.line}>
        <TextInput
          size="xs"
          type="date"
          label={words.workplace.dayOff}
          value={date}
          onChange={(event) => setDate(event.currentTarget.value)}
        />
        <Button
          variant="default"
          disabled={!date}
          onClick={() => {
            put([...holidays, date]);
            setDate("");
          }}
        >
          {words.workplace.addDayOff}
        </Button>
      </div>
    </Sheet>
  );
}
