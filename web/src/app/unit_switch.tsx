import { SegmentedControl } from "@mantine/core";
import { useId } from "react";
import type { LengthUnit } from "@/units/length";
import { useReader } from "@/words/preferences";
import classes from "./app.module.css";

const units: readonly LengthUnit[] = ["in", "mm"];
const look = SegmentedControl.classes;

/** Inches or millimetres. In the clothes of the library's control, which itself measures the page to
 * place its marker: on every page, and before the page is first seen. */
export function UnitSwitch() {
  const { words, unit, change } = useReader();
  const id = useId();
  return (
    <div
      className={`${look.root} ${classes.units}`}
      role="radiogroup"
      aria-label={words.settings.unit}
      data-with-items-borders
    >
      {units.map((one) => (
        <div
          key={one}
          className={look.control}
          data-orientation="horizontal"
          data-active={one === unit || undefined}
        >
          <input
            className={look.input}
            type="radio"
            name={id}
            id={`${id}-${one}`}
            data-focus-ring="auto"
            checked={one === unit}
            onChange={() => change({ unit: one })}
          />
          <label
            className={look.label}
            htmlFor={`${id}-${one}`}
            data-active={one === unit || undefined}
          >
            <span className={look.innerLabel}>{one}</span>
          </label>
        </div>
      ))}
    </div>
  );
}
