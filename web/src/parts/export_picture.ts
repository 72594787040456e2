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

/** Several canvases or drawings that lie over one another, as one picture. */
export async function pictureOf(holder: Element, form: PictureForm): Promise<Blob> {
  const drawings = [...holder.querySelectorAll("svg[role=img], svg[data-layer]")];
  const canvases = [...holder.querySelectorAll("canvas")];
  const [first] = drawings;
  if (form === "svg" && first instanceof SVGSVGElement)
    return new Blob([standalone(first).text], { type: "image/svg+xml" });
  const box = (canvases[0] ?? first)?.getBoundingClientRect();
  if (!box) throw new Error("nothing is drawn here");
  const sheet = document.createElement("canvas");
  sheet.width = Math.round(box.width * sharpness);
  sheet.height = Math.round(box.height * sharpness);
  const pen = sheet.getContext("2d");
  if (!pen) throw new Error("no canvas");
  pen.fillStyle = getComputedStyle(document.body).backgroundColor;
  pen.fillRect(0, 0, sheet.width, sheet.height);
  for (const canvas of canvases) pen.drawImage(canvas, 0, 0, sheet.width, sheet.height);
  for (const drawing of drawings)
    if (drawing instanceof SVGSVGElement)
      pen.drawImage(await loaded(standalone(drawing).text), 0, 0, sheet.width, sheet.height);
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
