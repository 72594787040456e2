/** What drawings of this folder ask of a canvas; a canvas offers it, and so does SvgPen. */
export type Pen = Pick<
  CanvasRenderingContext2D,
  | "fillStyle"
  | "strokeStyle"
  | "lineWidth"
  | "lineJoin"
  | "font"
  | "textAlign"
  | "textBaseline"
  | "beginPath"
  | "moveTo"
  | "lineTo"
  | "closePath"
  | "arc"
  | "fill"
  | "stroke"
  | "fillRect"
  | "setLineDash"
  | "fillText"
  | "strokeText"
>;

const anchors: Partial<Record<CanvasTextAlign, string>> = { center: "middle", end: "end" };
const plain = (text: string) =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;");
const short = (value: number) => String(Math.round(value * 100) / 100);

/** Writes as SVG what a canvas would show, so that a view is drawn by one piece of code only. */
export class SvgPen implements Pen {
  fillStyle: Pen["fillStyle"] = "#000";
  strokeStyle: Pen["strokeStyle"] = "#000";
  lineWidth = 1;
  lineJoin: CanvasLineJoin = "miter";
  font = "10px sans-serif";
  textAlign: CanvasTextAlign = "start";
  textBaseline: CanvasTextBaseline = "alphabetic";
  private dash: readonly number[] = [];
  private path: string[] = [];
  private readonly drawn: string[] = [];

  beginPath() {
    this.path = [];
  }
  moveTo(x: number, y: number) {
    this.path.push(`M${short(x)} ${short(y)}`);
  }
  lineTo(x: number, y: number) {
    this.path.push(`${this.path.length === 0 ? "M" : "L"}${short(x)} ${short(y)}`);
  }
  closePath() {
    this.path.push("Z");
  }
  /** Whole circles only. */
  arc(x: number, y: number, radius: number) {
    const r = short(radius);
    this.path.push(
      `M${short(x - radius)} ${short(y)}a${r} ${r} 0 1 0 ${short(2 * radius)} 0a${r} ${r} 0 1 0 ${short(-2 * radius)} 0`,
    );
  }
  fill() {
    this.drawn.push(`<path d="${this.path.join("")}" fill="${colourOf(this.fillStyle)}"/>`);
  }
  stroke() {
    if (this.path.length > 0)
      this.drawn.push(`<path d="${this.path.join("")}" fill="none" ${this.line()}/>`);
  }
  fillRect(x: number, y: number, width: number, height: number) {
    this.drawn.push(
      `<rect x="${short(x)}" y="${short(y)}" width="${short(width)}" height="${short(height)}" fill="${colourOf(this.fillStyle)}"/>`,
    );
  }
  setLineDash(dash: Iterable<number>) {
    this.dash = [...dash];
  }
  fillText(text: string, x: number, y: number) {
    this.text(text, x, y, `fill="${colourOf(this.fillStyle)}"`);
  }
  strokeText(text: string, x: number, y: number) {
    this.text(text, x, y, `fill="none" ${this.line()}`);
  }

  /** Everything drawn so far. */
  get svg(): string {
    return this.drawn.join("");
  }

  private line() {
    const dash = this.dash.length > 0 ? ` stroke-dasharray="${this.dash.join(" ")}"` : "";
    return `stroke="${colourOf(this.strokeStyle)}" stroke-width="${short(this.lineWidth)}" stroke-linejoin="${this.lineJoin}"${dash}`;
  }
  private text(text: string, x: number, y: number, paint: string) {
    const middle = this.textBaseline === "middle" ? ` dominant-baseline="central"` : "";
    this.drawn.push(
      `<text x="${short(x)}" y="${short(y)}" style="font:${plain(this.font)}" text-anchor="${anchors[this.textAlign] ?? "start"}"${middle} ${paint}>${plain(text)}</text>`,
    );
  }
}

const colourOf = (style: Pen["fillStyle"]) => (typeof style === "string" ? style : "none");

/** How a canvas's content is drawn again with another pen, in the CSS pixels of the canvas. */
const drawings = new WeakMap<HTMLCanvasElement, (pen: Pen) => void>();

/** Draws on a canvas what can be drawn again into a file. */
export function keepDrawing(canvas: HTMLCanvasElement, draw: (pen: Pen) => void) {
  drawings.set(canvas, draw);
}

/** The content of a canvas as SVG elements; undefined where only pixels are known. */
export function svgOf(canvas: HTMLCanvasElement): string | undefined {
  const draw = drawings.get(canvas);
  if (!draw) return undefined;
  const pen = new SvgPen();
  draw(pen);
  return pen.svg;
}
