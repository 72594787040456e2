import { svgOf } from "@/canvas/svg_pen";

/** A drawing of the page as a file of its own. Colours and line styles are written into it, so that
 * it looks the same wherever it is opened. */
const carried = [
  "fill",
  "fill-rule",
  "fill-opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linejoin",
  "stroke-linecap",
  "opacity",
  "vector-effect",
  "font-family",
  "font-size",
  "font-weight",
  "text-anchor",
  "dominant-baseline",
] as const;

export function standalone(drawing: SVGSVGElement): {
  text: string;
  width: number;
  height: number;
} {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const [from, to] = [
    [drawing, ...drawing.querySelectorAll("*")],
    [copy, ...copy.querySelectorAll("*")],
  ];
  from.forEach((element, index) => {
    const target = to[index];
    if (!target || element.closest("defs, title")) return;
    const style = getComputedStyle(element);
    target.removeAttribute("class");
    target.setAttribute(
      "style",
      carried.map((name) => `${name}:${style.getPropertyValue(name)}`).join(";"),
    );
  });
  const { width, height } = drawing.getBoundingClientRect();
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", String(Math.round(width)));
  copy.setAttribute("height", String(Math.round(height)));
  copy.removeAttribute("aria-hidden");
  return { text: new XMLSerializer().serializeToString(copy), width, height };
}

export type PictureForm = "svg" | "png";
const sharpness = 2; // pixels of the picture for each of the screen

interface Layer {
  x: number;
  y: number;
  width: number;
  height: number;
  /** A drawing of this size; undefined where only pixels are known. */
  svg: string | undefined;
  canvas: HTMLCanvasElement | undefined;
}

/** What lies over one another in a view, the lowest first. */
function layersOf(holder: Element): Layer[] {
  return [...holder.querySelectorAll("svg[role=img], svg[data-layer], canvas")].flatMap(
    (part): Layer[] => {
      const { left: x, top: y, width, height } = part.getBoundingClientRect();
      if (width === 0 || height === 0) return [];
      if (part instanceof SVGSVGElement)
        return [{ x, y, width, height, svg: standalone(part).text, canvas: undefined }];
      if (!(part instanceof HTMLCanvasElement)) return [];
      const drawn = svgOf(part);
      const svg =
        drawn === undefined
          ? undefined
          : `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${drawn}</svg>`;
      return [{ x, y, width, height, svg, canvas: part }];
    },
  );
}

/** Several canvases or drawings that lie over one another, as one picture. */
export async function pictureOf(holder: Element, form: PictureForm): Promise<Blob> {
  const layers = layersOf(holder);
  if (layers.length === 0) throw new Error("nothing is drawn here");
  const left = Math.min(...layers.map(({ x }) => x));
  const top = Math.min(...layers.map(({ y }) => y));
  const width = Math.max(...layers.map((layer) => layer.x + layer.width)) - left;
  const height = Math.max(...layers.map((layer) => layer.y + layer.height)) - top;
  const ground = getComputedStyle(document.body).backgroundColor;
  if (form === "svg") {
    const placed = layers.map(({ x, y, width: wide, height: high, svg, canvas }) =>
      svg === undefined
        ? `<image x="${x - left}" y="${y - top}" width="${wide}" height="${high}" href="${canvas?.toDataURL() ?? ""}"/>`
        : svg.replace("<svg", `<svg x="${x - left}" y="${y - top}"`),
    );
    return new Blob(
      [
        `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">`,
        `<rect width="${width}" height="${height}" fill="${ground}"/>`,
        ...placed,
        "</svg>\n",
      ],
      { type: "image/svg+xml" },
    );
  }
  const sheet = document.createElement("canvas");
  sheet.width = Math.round(width * sharpness);
  sheet.height = Math.round(height * sharpness);
  const pen = sheet.getContext("2d");
  if (!pen) throw new Error("no canvas");
  pen.fillStyle = ground;
  pen.fillRect(0, 0, sheet.width, sheet.height);
  pen.scale(sharpness, sharpness);
  for (const { x, y, width: wide, height: high, svg, canvas } of layers) {
    const image = canvas ?? (await loaded(svg ?? ""));
    pen.drawImage(image, x - left, y - top, wide, high);
  }
  return new Promise((resolve, reject) =>
    sheet.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("no picture"))), "image/png"),
  );
}

async function loaded(svg: string): Promise<HTMLImageElement> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  return image;
}

/** Hands a file to the person. */
export function download(blob: Blob, name: string) {
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
