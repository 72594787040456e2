import { useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client } from "./client";
import type { components } from "./schema.gen";
import { useJobChanged } from "./queries";

type Schemas = components["schemas"];
export type Installation = Schemas["Installation"];
export type Inspection = Schemas["Inspection"];
export type NewFinding = Schemas["NewFinding"];
export type TracedPiece = Schemas["TracedPiece"];
export type Claim = Schemas["Claim"];
export type RulingKind = Schemas["RulingKind"];
export type InvoiceLine = Schemas["InvoiceLine"];
export type Payment = Schemas["Payment"];

/** What is and was on the job's vehicle, how it was found, and what came back. */
export const useInstallation = (job: string) =>
  useQuery({
    queryKey: ["job", job, "installation"],
    queryFn: () => answerOf(client.GET("/jobs/{job}/installation", { params: { path: { job } } })),
  });

export function useInspect(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (findings: NewFinding[]) =>
      answerOf(
        client.POST("/jobs/{job}/inspections", { params: { path: { job } }, body: { findings } }),
      ),
    onSettled: changed,
  });
}

export interface HandOver {
  received_by: string;
  declined: string;
  note: string;
}

export function useHandOver(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: HandOver) =>
      answerOf(client.POST("/jobs/{job}/hand-over", { params: { path: { job } }, body })),
    onSettled: changed,
  });
}

/** A certificate for what is on the vehicle now, as after a recut. */
export function useIssueCertificate(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: () =>
      answerOf(
        client.POST("/jobs/{job}/certificates", {
          params: { path: { job } },
          headers: { "Content-Type": "application/json" },
        }),
      ),
    onSettled: changed,
  });
}

export function useKeepPhoto(job: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ photo, about }: { photo: File; about: string }) =>
      answerOf(
        client.POST("/jobs/{job}/photos", {
          params: { path: { job }, query: { about } },
          headers: { "Content-Type": photo.type },
          body: photo as unknown as string,
          bodySerializer: (body: unknown) => body as BodyInit,
        }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: ["job", job, "installation"] }),
  });
}

export interface Replacement {
  panel: string;
  piece: string;
  source: string;
  lot: string;
  replaces: number;
  reason: string;
}

/** Takes down that a piece lies where another came off. */
export function useReplacePiece(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: Replacement) =>
      answerOf(
        client.POST("/jobs/{job}/installed", {
          params: { path: { job } },
          body: { event: crypto.randomUUID(), ...body },
        }),
      ),
    onSettled: changed,
  });
}

export function useOpenClaim(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: { piece: number; what: string; reported_by: string; photos: string[] }) =>
      answerOf(client.POST("/claims", { body })),
    onSettled: changed,
  });
}

export function useRuleClaim({ id: claim, job }: Pick<Claim, "id" | "job">) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: { ruling: RulingKind; reason: string; recut: boolean }) =>
      answerOf(client.POST("/claims/{claim}/rulings", { params: { path: { claim } }, body })),
    onSettled: changed,
  });
}

export const claimReportAddress = (claim: string) =>
  `/api/v1/claims/${encodeURIComponent(claim)}/report.pdf`;

/** What the job was billed and what was paid. */
export const useAccount = (job: string) =>
  useQuery({
    queryKey: ["job", job, "account"],
    queryFn: () => answerOf(client.GET("/jobs/{job}/invoices", { params: { path: { job } } })),
  });

export function useIssueInvoice(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: { bill_to: string; lines: InvoiceLine[]; note: string; due: string }) =>
      answerOf(
        client.POST("/jobs/{job}/invoices", {
          params: { path: { job } },
          body: {
            bill_to: body.bill_to,
            lines: body.lines,
            note: body.note,
            ...(body.due && { due: body.due }),
          },
        }),
      ),
    onSettled: changed,
  });
}

export function useRecordPayment(job: string) {
  const changed = useJobChanged(job);
  return useMutation({
    mutationFn: (body: Pick<Payment, "kind" | "amount" | "way" | "note">) =>
      answerOf(client.POST("/jobs/{job}/payments", { params: { path: { job } }, body })),
    onSettled: changed,
  });
}
