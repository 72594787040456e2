/** A hue for each zone, so that a piece on the roll is told by where it belongs; always with a
 * legend. Lightness and strength come from the theme, the hues are spread evenly. */
const order = ["front", "left", "roof", "right", "rear", "sills", "glass", "lamps"];
const firstHue = 25;

export function zoneFill(zone: string): string {
  const place = order.indexOf(zone);
  if (place < 0) return "var(--sheet)";
  return `oklch(var(--zone-lightness) var(--zone-chroma) ${firstHue + (place * 360) / order.length})`;
}

export const byZone = (a: string, b: string) => rank(a) - rank(b) || a.localeCompare(b);

const rank = (zone: string) => (order.includes(zone) ? order.indexOf(zone) : order.length);
