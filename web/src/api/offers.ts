import { keepPreviousData, useMutation, useQuery, useQueryClient } from "@tanstack/react-query";
import { answerOf, client, type Quote, type QuoteDraft, type ScopeItem } from "./client";

export const usePriceList = () =>
  useQuery({
    queryKey: ["price-list"],
    queryFn: () => answerOf(client.GET("/price-list")),
  });

/** What the rules propose; all panels of the vehicle when no package is named. */
export const useProposals = (vehicle: string, look: string, package_?: string) =>
  useQuery({
    queryKey: ["proposals", vehicle, look, package_ ?? ""],
    queryFn: async () =>
      (
        await answerOf(
          client.GET("/vehicles/{vehicle}/proposals", {
            params: {
              path: { vehicle },
              query: { look, ...(package_ ? { package: package_ } : {}) },
            },
          }),
        )
      ).proposals,
    enabled: vehicle !== "" && look !== "",
  });

export interface Offer {
  vehicle: string;
  scope: ScopeItem[];
  coating: boolean;
  discount: number;
}

/** The price of a scope; asked again while panels are being studied. */
export const usePrice = (offer: Offer) =>
  useQuery({
    queryKey: ["price", offer],
    queryFn: ({ signal }) => answerOf(client.POST("/offers/price", { body: offer, signal })),
    enabled: offer.vehicle !== "",
    placeholderData: keepPreviousData,
    refetchInterval: (query) => (query.state.data?.waiting.length ? 3000 : false),
  });

export const useQuotes = () =>
  useQuery({
    queryKey: ["quotes"],
    queryFn: async () => (await answerOf(client.GET("/quotes"))).quotes,
  });

export const useQuote = (quote: string) =>
  useQuery({
    queryKey: ["quote", quote],
    queryFn: () => answerOf(client.GET("/quotes/{quote}", { params: { path: { quote } } })),
    enabled: quote !== "",
  });

export const useDraftQuote = () => {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: QuoteDraft) => answerOf(client.POST("/quotes", { body })),
    onSuccess: () => queries.invalidateQueries({ queryKey: ["quotes"] }),
  });
};

export type QuoteMove =
  | { to: "send" | "renew" }
  | { to: "accept"; by: string; alternative: number }
  | { to: "decline"; by: string };

/** Moves a quote as it was read; refused when somebody else changed it first. */
export const useMoveQuote = ({ id: quote, revision }: Pick<Quote, "id" | "revision">) => {
  const queries = useQueryClient();
  const params = { path: { quote } };
  return useMutation({
    mutationFn: (move: QuoteMove) => {
      switch (move.to) {
        case "send":
          return answerOf(client.POST("/quotes/{quote}/send", { params, body: { revision } }));
        case "renew":
          return answerOf(client.POST("/quotes/{quote}/renew", { params, body: { revision } }));
        case "decline":
          return answerOf(
            client.POST("/quotes/{quote}/decline", { params, body: { revision, by: move.by } }),
          );
        case "accept":
          return answerOf(
            client.POST("/quotes/{quote}/accept", {
              params,
              body: { revision, by: move.by, alternative: move.alternative },
            }),
          );
      }
    },
    onSuccess: (moved) => {
      queries.setQueryData(["quote", quote], moved);
      void queries.invalidateQueries({ queryKey: ["quotes"] });
      void queries.invalidateQueries({ queryKey: ["jobs"] });
    },
  });
};

/** A quote made and sent in one go; its paper is quotePaperAddress of its id. */
export const useSendQuote = () => {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: async (body: QuoteDraft) => {
      const draft = await answerOf(client.POST("/quotes", { body }));
      return answerOf(
        client.POST("/quotes/{quote}/send", {
          params: { path: { quote: draft.id } },
          body: { revision: draft.revision },
        }),
      );
    },
    onSettled: () => queries.invalidateQueries({ queryKey: ["quotes"] }),
  });
};

export const quotePaperAddress = (quote: string) =>
  `/api/v1/quotes/${encodeURIComponent(quote)}/paper.pdf`;

/** A link with which the customer looks at a job. */
export const useShareLink = () =>
  useMutation({
    mutationFn: (job: string) =>
      answerOf(client.POST("/jobs/{job}/links", { params: { path: { job } }, body: {} })),
  });
