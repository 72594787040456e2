/** The workplace as docs/formats/plan.md has it. What this page does not edit stays as it is. */
export interface Shift {
  from: string;
  until: string;
  breaks?: { from: string; until: string }[];
}

export const days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;
export type Day = (typeof days)[number];

export interface PersonForm {
  id: string;
  skills: Record<string, number>;
  week: Partial<Record<Day, Shift[]>>;
  away?: { from: string; until: string }[];
  special?: { date: string; shifts: Shift[] }[];
}

export interface BayForm {
  id: string;
  features: string[];
}

export interface WaitForm {
  task: string;
  least_hours?: number;
  most_hours?: number;
  at_once?: boolean;
}

export interface TaskForm {
  id: string;
  per?: string;
  hours?: number;
  share?: number;
  spread?: number;
  skill?: string;
  level?: number;
  in_one_go?: boolean;
  plotter?: boolean;
  stage?: string;
  after?: WaitForm[];
}

export interface WorkplaceForm {
  zone: string;
  move_minutes?: number;
  people_at_a_vehicle?: number;
  skills: string[];
  features: string[];
  holidays?: string[];
  people: PersonForm[];
  bays: BayForm[];
  templates?: { stages: { id: string; features: string[] }[]; tasks: TaskForm[] };
  [more: string]: unknown;
}

export const emptyWorkplace = (zone: string): WorkplaceForm => ({
  zone,
  skills: [
    "prepare",
    "correct paint",
    "cut film",
    "install film",
    "window film",
    "coat",
    "inspect",
  ],
  features: ["clean", "heated"],
  holidays: [],
  people: [],
  bays: [],
});

/** "08:00-12:00, 12:45-17:00": the stretches that are worked. */
export function hoursText(shifts: readonly Shift[] | undefined): string {
  const stretches = (shifts ?? []).flatMap(({ from, until, breaks }) => {
    const edges = [from, ...(breaks ?? []).flatMap((pause) => [pause.from, pause.until]), until];
    const found: string[] = [];
    for (let k = 0; k + 1 < edges.length; k += 2) found.push(`${edges[k]}-${edges[k + 1]}`);
    return found;
  });
  return stretches.join(", ");
}

const stretch = /^(\d{1,2})(?::?([0-5]\d))?\s*[-–]\s*(\d{1,2})(?::?([0-5]\d))?$/;

/** The shift of such a text, its gaps as breaks; none when it is empty, undefined when it is none. */
export function shiftsOf(text: string): Shift[] | undefined {
  const parts = text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter(Boolean);
  const edges: string[] = [];
  for (const part of parts) {
    const found = stretch.exec(part);
    if (!found) return undefined;
    const [, fromHour = "", fromMinute = "00", untilHour = "", untilMinute = "00"] = found;
    edges.push(`${fromHour.padStart(2, "0")}:${fromMinute}`);
    edges.push(`${untilHour.padStart(2, "0")}:${untilMinute}`);
  }
  const [from] = edges;
  const until = edges.at(-1);
  if (from === undefined || until === undefined) return [];
  if (edges.some((edge, k) => k > 0 && edge <= (edges[k - 1] ?? ""))) return undefined;
  const breaks = [];
  for (let k = 1; k + 2 < edges.length; k += 2) {
    breaks.push({ from: edges[k] ?? "", until: edges[k + 1] ?? "" });
  }
  return [breaks.length > 0 ? { from, until, breaks } : { from, until }];
}

/** The list with one of its items replaced; without it when there is nothing to put there. */
export const replaced = <Item>(list: readonly Item[], index: number, item?: Item): Item[] =>
  list.flatMap((one, k) => (k !== index ? [one] : item === undefined ? [] : [item]));
