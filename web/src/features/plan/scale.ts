/** Wall-clock times of the shop, "2031-05-05T08:00", as milliseconds; no zone is meant. */
export const moment = (time: string) => Date.parse(`${time}:00Z`);
export const wallTime = (at: number) => new Date(at).toISOString().slice(0, 16);

const hour = 3_600_000;
const day = 24 * hour;

/** The hours of a day that have width; nights are folded to nothing. */
export const dawn = 6;
export const dusk = 19;

/** Times across the board, a day `width` wide, the first day at x = 0. */
export class Scale {
  constructor(
    readonly first: number,
    readonly days: number,
    readonly width: number,
  ) {}

  static from(time: string, days: number, width: number) {
    return new Scale(moment(`${time.slice(0, 10)}T00:00`), days, width);
  }

  get end() {
    return this.first + this.days * day;
  }

  get span() {
    return this.days * this.width;
  }

  dayAt(index: number) {
    return this.first + index * day;
  }

  x(at: number) {
    const since = at - this.first;
    const index = Math.floor(since / day);
    const hours = (since - index * day) / hour;
    const share = Math.min(1, Math.max(0, (hours - dawn) / (dusk - dawn)));
    return (index + share) * this.width;
  }

  /** The time at x, on whole quarters of an hour. */
  at(x: number) {
    const index = Math.floor(x / this.width);
    const hours = dawn + (x / this.width - index) * (dusk - dawn);
    return this.dayAt(index) + Math.round(hours * 4) * (hour / 4);
  }
}
