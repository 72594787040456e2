import type { Offcut } from "@/api/client";

interface Size {
  length_mm: number;
  width_mm: number;
}

const near = (a: number, b: number) => Math.abs(a - b) < 0.5; // mm

/** Which offcut of the run's each rest became, by its size; each offcut counts once. */
export function shelvedAs(
  rests: readonly Size[],
  offcuts: readonly Pick<Offcut, "id" | "run" | "outline">[],
  run: string,
): (string | undefined)[] {
  const free = offcuts.filter((offcut) => offcut.run === run);
  return rests.map(({ length_mm, width_mm }) => {
    const at = free.findIndex(
      ({ outline }) =>
        near(Math.max(...outline.outer.map(([x]) => x ?? 0)), length_mm) &&
        near(Math.max(...outline.outer.map(([, y]) => y ?? 0)), width_mm),
    );
    return at < 0 ? undefined : free.splice(at, 1)[0]?.id;
  });
}
