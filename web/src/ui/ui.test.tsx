// @vitest-environment jsdom
import { render, screen } from "@testing-library/react";
import { expect, it } from "vitest";
import { Figure } from "./figure";
import { Note } from "./note";
import { Sheet } from "./sheet";

it("names a sheet by its title", () => {
  render(<Sheet title="Edges">inside</Sheet>);
  expect(screen.getByRole("region", { name: "Edges" }).textContent).toContain("inside");
});

it("reads a figure as a term with its value", () => {
  render(<Figure label="Film used" value="12.4 m" />);
  expect(screen.getByRole("term").textContent).toBe("Film used");
  expect(screen.getByRole("definition").textContent).toBe("12.4 m");
});

it("announces a fault, and not a reminder", () => {
  render(<Note tone="fault" lines={["No answer.", "Start it again."]} />);
  expect(screen.getByRole("alert").textContent).toContain("Start it again.");
  render(<Note tone="caution" lines={["Sheathe the blade."]} />);
  expect(screen.getByRole("note").textContent).toContain("blade");
});
