// @vitest-environment jsdom
import { expect, it } from "vitest";
import { SvgPen } from "./svg_pen";

it("a line, its dash and a text come out as the canvas would draw them", () => {
  const pen = new SvgPen();
  pen.strokeStyle = "#101414";
  pen.lineWidth = 2;
  pen.setLineDash([6, 4]);
  pen.beginPath();
  pen.moveTo(1, 2);
  pen.lineTo(30.126, 4);
  pen.closePath();
  pen.stroke();
  pen.fillStyle = "rgb(1 2 3)";
  pen.textAlign = "center";
  pen.fillText("roll <60 in>", 5, 6);
  const parsed = new DOMParser().parseFromString(`<svg>${pen.svg}</svg>`, "text/xml");
  const path = parsed.querySelector("path");
  expect(path?.getAttribute("d")).toBe("M1 2L30.13 4Z");
  expect(path?.getAttribute("stroke-dasharray")).toBe("6 4");
  expect(path?.getAttribute("stroke")).toBe("#101414");
  expect(path?.getAttribute("fill")).toBe("none");
  expect(parsed.querySelector("text")?.textContent).toBe("roll <60 in>");
  expect(parsed.querySelector("text")?.getAttribute("text-anchor")).toBe("middle");
});

it("a new path forgets the one before, and nothing drawn is nothing written", () => {
  const pen = new SvgPen();
  pen.beginPath();
  pen.moveTo(0, 0);
  pen.lineTo(1, 0);
  pen.beginPath();
  pen.stroke();
  expect(pen.svg).toBe("");
});
