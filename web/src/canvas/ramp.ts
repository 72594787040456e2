/**
 * The strain ramp: squeeze in violet, stretch in ochre, unstrained the colour of paper. Its two
 * arms fall in lightness by equal steps in OKLab and differ along blue-yellow, so that the sign
 * stays readable with red-green colour blindness and the amount without any colour at all.
 *
 * OKLab: Björn Ottosson, "A perceptual color space for image processing", 2020.
 */
export type Rgb = readonly [red: number, green: number, blue: number]; // 0..1, sRGB

interface Arm {
  hue: readonly [number, number]; // degrees, near 1 and at the end
  chroma: number;
}

const lightest = 0.93;
const darkest = 0.34;
const squeezeArm: Arm = { hue: [275, 290], chroma: 0.175 };
const stretchArm: Arm = { hue: [75, 42], chroma: 0.145 };

/** Where the film's limit sits on its arm: the last third is kept for what lies beyond it. */
export const limitPosition = 2 / 3;

export function oklchToRgb(lightness: number, chroma: number, hueDegrees: number): Rgb {
  const hue = (hueDegrees * Math.PI) / 180;
  const a = chroma * Math.cos(hue);
  const b = chroma * Math.sin(hue);
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    gamma(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    gamma(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    gamma(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

function gamma(linear: number): number {
  const clipped = Math.min(1, Math.max(0, linear));
  return clipped <= 0.0031308 ? 12.92 * clipped : 1.055 * clipped ** (1 / 2.4) - 0.055;
}

/** The colour at a position of the ramp: -1 strongest squeeze, 0 unstrained, +1 strongest stretch. */
export function rampColour(position: number): Rgb {
  const arm = position < 0 ? squeezeArm : stretchArm;
  const t = Math.min(1, Math.abs(position));
  const hue = arm.hue[0] + (arm.hue[1] - arm.hue[0]) * t;
  // Chroma opens quickly and closes a little where sRGB narrows.
  const chroma = arm.chroma * Math.sin(Math.PI * Math.min(1, 0.05 + 0.75 * t)) * Math.min(1, t * 4);
  return oklchToRgb(lightest + (darkest - lightest) * t, chroma, hue);
}

/** What a film bears: `squeeze` below 1 and `stretch` above 1, both as ratios. */
export interface Limits {
  squeeze: number;
  stretch: number;
}

/** Below 1: the small strains of most panels take more of the ramp than their share. */
const spread = 0.6;

/** Position on the ramp of a stretch ratio; the film's limits lie at -+limitPosition. */
export function rampPosition(ratio: number, limits: Limits): number {
  if (ratio <= 0) return -1;
  const limit = ratio < 1 ? limits.squeeze : limits.stretch;
  const share = Math.abs(Math.log(ratio) / Math.log(limit));
  return Math.sign(ratio - 1) * Math.min(1, limitPosition * share ** spread);
}

/** The strain that decides a triangle's colour: of its two, the one nearer to what film bears. */
export function decidingPosition(greatest: number, least: number, limits: Limits): number {
  const [upper, lower] = [rampPosition(greatest, limits), rampPosition(least, limits)];
  return Math.abs(lower) > Math.abs(upper) ? lower : upper;
}

/** The inverse of rampPosition inside -1..1. */
export function rampRatio(position: number, limits: Limits): number {
  const limit = position < 0 ? limits.squeeze : limits.stretch;
  const share = (Math.abs(position) / limitPosition) ** (1 / spread);
  return Math.exp(share * Math.log(limit));
}

export const toCss = ([red, green, blue]: Rgb): string =>
  `rgb(${Math.round(red * 255)} ${Math.round(green * 255)} ${Math.round(blue * 255)})`;
