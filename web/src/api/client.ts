import createClient from "openapi-fetch";
import type { components, paths } from "./schema.gen";

type Schemas = components["schemas"];
export type Shop = Schemas["Shop"];
export type Vehicle = Schemas["Vehicle"];
export type VehicleSummary = Schemas["VehicleSummary"];
export type Panel = Schemas["Panel"];
export type Finish = Schemas["Finish"];
export type Study = Schemas["Study"];
export type StudySummary = Schemas["StudySummary"];
export type Film = Schemas["Film"];
export type Roll = Schemas["Roll"];
export type Offcut = Schemas["Offcut"];
export type NewRoll = Schemas["NewRoll"];
export type NewOffcut = Schemas["NewOffcut"];
export type Supply = Schemas["Supply"];
export type StockVerb = Schemas["StockVerb"];
export type RecutReason = Schemas["RecutReason"];
export type RecutPlace = Schemas["RecutPlace"];
export type RecutReplan = NonNullable<Schemas["RecutReplan"]>;
export type Outline = Schemas["Outline"];
export type Profile = Schemas["Profile"];
export type Job = Schemas["Job"];
export type NewJob = Schemas["NewJob"];
export type JobState = Schemas["JobState"];
export type JobPiece = Schemas["JobPiece"];
export type Piece = Schemas["Piece"];
export type PhotoOutlines = Schemas["PhotoOutlines"];
export type Layout = Schemas["Layout"];
export type LiveLayout = Schemas["LiveLayout"];
export type Cards = Schemas["Cards"];
export type Card = Schemas["Card"];
export type LayoutEdit = Schemas["LayoutEdit"];
export type EditCheck = Schemas["EditCheck"];
export type Clash = EditCheck["clashes"][number];
export type Placement = Schemas["Placement"];
export type Defect = Schemas["Defect"];
export type LayoutRequest = Schemas["LayoutRequest"];
export type Cut = Schemas["Cut"];
export type Run = Schemas["Run"];
export type RunProgress = Schemas["RunProgress"];
export type Task = Schemas["Task"];
export type TaskProgress = Schemas["TaskProgress"];
export type Tint = Schemas["Tint"];
export type WindowPosition = Schemas["WindowPosition"];
export type GlassMatch = Schemas["GlassMatch"];
export type GlassMatches = Schemas["GlassMatches"];
export type GlassPlace = Schemas["GlassPlace"];
export type WindowLook = Schemas["WindowLook"];
export type Light = Schemas["Light"];
export type Ruling = Schemas["Ruling"];
export type JobGlass = Schemas["JobGlass"];
export type JobWindow = Schemas["JobWindow"];
export type OpenConcern = Schemas["OpenConcern"];
export type MethodChoice = Schemas["MethodChoice"];
export type EdgeEdit = Schemas["EdgeEdit"];
export type Standing = Schemas["Standing"];
export type PriceList = Schemas["PriceList"];
export type Proposal = Schemas["Proposal"];
export type ScopeItem = Schemas["ScopeItem"];
export type PricedOffer = Schemas["PricedOffer"];
export type WorkNeed = Schemas["WorkNeed"];
export type Price = Schemas["Price"];
export type Quote = Schemas["Quote"];
export type QuoteDraft = Schemas["QuoteDraft"];
export type QuoteLine = Schemas["QuoteLines"]["quotes"][number];
export type Found = Schemas["Found"];
export type QuoteState = Schemas["QuoteState"];

type BodyOf<Path extends keyof paths> = paths[Path] extends {
  post: { requestBody: { content: { "application/json": infer Body } } };
}
  ? Body
  : never;
export type ReadingBody = BodyOf<"/jobs/{job}/glass/readings">;
export type DecisionBody = BodyOf<"/jobs/{job}/glass/decisions">;

const base = "/api/v1";

export const client = createClient<paths>({
  baseUrl: typeof location === "undefined" ? base : `${location.origin}${base}`,
});

/** A failure as the server tells it; `remedy` is for the person in front of the page. */
export class ServerProblem extends Error {
  constructor(
    readonly code: Schemas["Problem"]["code"] | "unreachable",
    message: string,
    readonly where = "",
    readonly remedy = "",
  ) {
    super(message);
  }
}

interface Answer<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

function isProblem(value: unknown): value is Schemas["Problem"] {
  return typeof value === "object" && value !== null && "code" in value && "message" in value;
}

/** The data of an answer; what went wrong, as a ServerProblem, is thrown. */
export async function answerOf<T>(request: Promise<Answer<T>>): Promise<T> {
  let answer: Answer<T>;
  try {
    answer = await request;
  } catch {
    throw new ServerProblem("unreachable", "");
  }
  if (answer.data !== undefined) return answer.data;
  const { error } = answer;
  if (isProblem(error))
    throw new ServerProblem(error.code, error.message, error.where, error.remedy);
  throw new ServerProblem("failed", `HTTP ${answer.response.status}`);
}

export const cutFileAddress = (
  job: string,
  film: string,
  roll: string,
  form: "plt" | "svg" | "dxf" | "pdf",
) =>
  `${base}/jobs/${encodeURIComponent(job)}/cut.${form}?film=${encodeURIComponent(film)}&roll=${encodeURIComponent(roll)}`;

export const libraryAddress = (vehicle: string) =>
  `${base}/vehicles/${encodeURIComponent(vehicle)}/library.zip`;

export const markerBoardAddress = (paper: "a4" | "letter") =>
  `${base}/marker-board.pdf?paper=${paper}`;

export const taskEventsAddress = (task: string) =>
  `${base}/tasks/${encodeURIComponent(task)}/events`;
