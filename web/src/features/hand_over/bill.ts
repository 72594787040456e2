import type { InvoiceLine } from "@/api/installation_queries";
import type { Price } from "@/api/client";

/** The lines of an invoice for an accepted price: the discount taken off each. */
export const linesOf = (
  { lines }: Pick<Price, "lines">,
  kinds: Record<Price["lines"][number]["kind"], string>,
): InvoiceLine[] =>
  lines.map(({ kind, name, net, discount, tax }) => ({
    text: kind === "film" ? name : kinds[kind],
    net: net - discount,
    tax,
  }));

export const sumOf = (lines: readonly Pick<InvoiceLine, "net">[]) =>
  lines.reduce((sum, { net }) => sum + net, 0);
