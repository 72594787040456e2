import {
  areaUnitName,
  type LengthUnit,
  mm,
  rollUnitName,
  toAreaUnit,
  toRollUnit,
  toUnit,
} from "@/units/length";

/** What the server says, as a sentence of its own, with no figure parted from its unit. */
export function sentence(text: string): string {
  const whole = text.replace(/(\d) (?=%|mm\b|in\b)/g, "$1\u00a0");
  const first = whole.charAt(0).toUpperCase() + whole.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}

/** Keeps what `make` makes of each key: making a formatter takes a hundred times as long as using it. */
function kept<Key, Made>(make: (key: Key) => Made): (key: Key) => Made {
  const all = new Map<Key, Made>();
  return (key) => {
    let made = all.get(key);
    if (made === undefined) all.set(key, (made = make(key)));
    return made;
  };
}

/** How many digits a currency has after the point, as ISO 4217 says. */
export const currencyDigits = kept(
  (currency: string) =>
    new Intl.NumberFormat("en", { style: "currency", currency }).resolvedOptions()
      .maximumFractionDigits ?? 2,
);

// The shop's own times are wall-clock times, written as if they were UTC.
const shortDay = { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" } as const;
const timeStyles = {
  moment: { ...shortDay, hour: "2-digit", minute: "2-digit" },
  wallDay: shortDay,
  instant: { dateStyle: "medium", timeStyle: "short" },
  day: { dateStyle: "medium" },
  calendarDay: { ...shortDay, month: "long", year: "numeric" },
} as const satisfies Record<string, Intl.DateTimeFormatOptions>;
type TimeStyle = keyof typeof timeStyles;

/** Numbers as this reader writes them: unit and language are theirs, values are in mm and s. */
export function formatter(language: string, unit: LengthUnit) {
  const numbers = kept(
    (digits: number) =>
      new Intl.NumberFormat(language, {
        minimumFractionDigits: digits,
        maximumFractionDigits: digits,
      }),
  );
  const number = (value: number, digits: number) =>
    numbers(digits).format(value).replace("-", "\u2212");
  const monies = kept(
    (currency: string) => new Intl.NumberFormat(language, { style: "currency", currency }),
  );
  const times = kept(
    (style: TimeStyle) =>
      new Intl.DateTimeFormat(language === "en" ? "en-GB" : language, timeStyles[style]),
  );
  const time = (style: TimeStyle, at: string) => times(style).format(Date.parse(at));

  const length = (value: number, digits = unit === "mm" ? 0 : 1) =>
    `${number(toUnit(mm(value), unit), digits)}\u00a0${unit}`;

  const work = (minutes: number) => {
    const hours = Math.floor(minutes / 60);
    return hours === 0 ? `${minutes}\u00a0min` : `${hours}\u00a0h ${minutes % 60}\u00a0min`;
  };

  return {
    unit,
    number,
    length,
    /** Small lengths, as allowances: one digit in mm, two in inches. */
    allowance: (value: number) => length(value, unit === "mm" ? 1 : 2),
    size: (width: number, height: number) =>
      `${number(toUnit(mm(width), unit), unit === "mm" ? 0 : 1)}\u00a0×\u00a0${length(height)}`,
    rollLength: (value: number) =>
      `${number(toRollUnit(mm(value), unit), unit === "mm" ? 2 : 1)}\u00a0${rollUnitName(unit)}`,
    area: (value: number) => {
      const area = toAreaUnit(value, unit);
      return `${number(area, area < 100 ? 2 : 1)}\u00a0${areaUnitName(unit)}`;
    },
    percent: (share: number, digits = 1) => `${number(share * 100, digits)}\u00a0%`,
    /** A stretch ratio as the change it means: 1.012 is +1.2 %. */
    stretch: (ratio: number, digits = 1) => {
      const change = Number(((ratio - 1) * 100).toFixed(digits));
      const sign = change > 0 ? "+" : change < 0 ? "\u2212" : "";
      return `${sign}${number(Math.abs(change), digits)}\u00a0%`;
    },
    /** A wall-clock time of the shop, "2031-05-05T08:00". */
    moment: (at: string) => time("moment", `${at}:00Z`),
    /** The day of a wall-clock time of the shop. */
    wallDay: (at: string) => time("wallDay", `${at}:00Z`),
    /** A moment as the server writes it (UTC), by the clock of the person who reads. */
    instant: (at: string) => time("instant", at),
    /** The day of such a moment. */
    day: (at: string) => time("day", at),
    /** A date of the shop, "2031-05-22". */
    calendarDay: (date: string) => time("calendarDay", `${date}T00:00Z`),
    /** Minutes of work, never in days: a day's work is not 24 hours. */
    work,
    /** So many minutes by the clock, in the largest units that tell enough. */
    lasting: (minutes: number) =>
      minutes >= 1440 ? `${number(minutes / 1440, 1)}\u00a0d` : work(minutes),
    /** A wait that runs down: "29:05". */
    clock: (seconds: number) => {
      const whole = Math.ceil(seconds);
      return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
    },
    /** Minor units of a currency, as the server keeps money. */
    money: (minor: number, currency: string) =>
      monies(currency)
        .format(minor / 10 ** currencyDigits(currency))
        .replace("-", "\u2212"),
    duration: (seconds: number) => {
      const whole = Math.max(0, Math.round(seconds));
      if (whole < 60) return `${whole}\u00a0s`;
      const minutes = Math.floor(whole / 60);
      if (minutes < 60) return `${minutes}\u00a0min ${String(whole % 60).padStart(2, "0")}\u00a0s`;
      return `${Math.floor(minutes / 60)}\u00a0h ${String(minutes % 60).padStart(2, "0")}\u00a0min`;
    },
  };
}

export type Format = ReturnType<typeof formatter>;
