import type { WorkplaceForm } from "./form";

/** A part of the page: what it shows, and how it is changed. */
export interface PartProps {
  place: WorkplaceForm;
  set: (place: WorkplaceForm) => void;
}
