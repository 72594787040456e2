import { TextInput } from "@mantine/core";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { Link, useSearchParams } from "wouter";
import { answerOf, client } from "@/api/client";
import type { components } from "@/api/schema.gen";
import { type TracedPiece, useInstallation } from "@/api/installation_queries";
import { PaperLinks } from "@/parts/paper_links";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import { Claims } from "./claims";
import classes from "./aftercare.module.css";

type Found = components["schemas"]["Found"];

/** Years later: search first, one list of what fits, then where a lot went or what is on a vehicle. */
export default function AftercarePage() {
  const { words } = useReader();
  const [place, setPlace] = useSearchParams();
  const [text, setText] = useState(place.get("q") ?? "");
  const asked = place.get("q") ?? "";
  const lot = place.get("lot");
  const job = place.get("job");
  const found = useQuery({
    queryKey: ["search", asked],
    enabled: asked !== "",
    queryFn: async () =>
      (await answerOf(client.GET("/search", { params: { query: { q: asked } } }))).found,
  });
  return (
    <div className={classes.page}>
      <h1>{words.aftercare.title}</h1>
      <form
        role="search"
        onSubmit={(event) => {
          event.preventDefault();
          setPlace(text.trim() === "" ? {} : { q: text.trim() });
        }}
      >
        <TextInput
          label={words.aftercare.search}
          description={words.aftercare.hint}
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
          autoFocus
        />
      </form>
      {found.error && <Trouble error={found.error} again={() => void found.refetch()} />}
      <div className={classes.columns} data-searched={asked !== ""}>
        {asked !== "" && (
          <ul className={classes.found} aria-label={words.aftercare.found}>
            {found.data?.length === 0 && <li>{words.aftercare.nothing}</li>}
            {found.data?.map((each) => (
              <li key={each.kind + each.id}>
                <FoundLink found={each} asked={asked} />
              </li>
            ))}
          </ul>
        )}
        {lot !== null && <LotTrace lot={lot} />}
        {lot === null && job !== null && <JobTrace job={job} />}
      </div>
    </div>
  );
}

/** What it leads to: a vehicle's history, or the page of what never had a job. */
function placeOf(found: Found, asked: string) {
  if (found.job === "" && found.kind === "quote") return `/quotes/${encodeURIComponent(found.id)}`;
  if (found.job === "" && found.kind !== "lot") return "/customers";
  const [name, id] = found.kind === "lot" ? ["lot", found.id] : ["job", found.job];
  return `/aftercare?${new URLSearchParams({ q: asked, [name]: id }).toString()}`;
}

function FoundLink({ found, asked }: { found: Found; asked: string }) {
  const { words } = useReader();
  return (
    <Link href={placeOf(found, asked)}>
      <strong>
        {words.aftercare.kinds[found.kind]} {found.id}
      </strong>
      <span>
        {[found.title, found.detail, found.day].filter((part) => part !== "").join(" · ")}
      </span>
    </Link>
  );
}

function LotTrace({ lot }: { lot: string }) {
  const { words } = useReader();
  const trace = useQuery({
    queryKey: ["lot", lot],
    queryFn: () => answerOf(client.GET("/lots", { params: { query: { lot } } })),
  });
  if (trace.error) return <Trouble error={trace.error} again={() => void trace.refetch()} />;
  return (
    <section className={classes.trace} aria-label={`${words.aftercare.kinds.lot} ${lot}`}>
      <h2>
        {words.aftercare.kinds.lot} {lot}
      </h2>
      {trace.data?.vehicles.map((vehicle) => (
        <div key={vehicle.job}>
          <h3>
            <Link href={`/aftercare?job=${encodeURIComponent(vehicle.job)}`}>
              {vehicle.job} · {vehicle.vehicle_name} · {vehicle.customer}
            </Link>
          </h3>
          <Pieces pieces={vehicle.pieces} />
        </div>
      ))}
      {trace.data !== undefined && trace.data.next !== 0 && <p>{words.aftercare.more}</p>}
    </section>
  );
}

function JobTrace({ job }: { job: string }) {
  const { words } = useReader();
  const trace = useInstallation(job);
  if (trace.error) return <Trouble error={trace.error} again={() => void trace.refetch()} />;
  if (!trace.data) return null;
  return (
    <section className={classes.trace} aria-label={trace.data.title}>
      <h2>{trace.data.title}</h2>
      <p>
        {[job, trace.data.vehicle_name, trace.data.customer, words.states[trace.data.state]]
          .filter((part) => part !== "")
          .join(" · ")}
      </p>
      <p>
        <Link href={`/jobs/${encodeURIComponent(job)}/job`}>{words.aftercare.toJob}</Link>
      </p>
      <Pieces pieces={trace.data.pieces} />
      <PaperLinks job={job} only={["certificate", "care"]} />
      <Claims installation={trace.data} />
    </section>
  );
}

function Pieces({ pieces }: { pieces: readonly TracedPiece[] }) {
  const { words } = useReader();
  return (
    <table className={classes.pieces}>
      <thead>
        <tr>
          <th>{words.aftercare.piece}</th>
          <th>{words.aftercare.panel}</th>
          <th>{words.aftercare.film}</th>
          <th>{words.aftercare.kinds.lot}</th>
          <th>{words.aftercare.laid}</th>
        </tr>
      </thead>
      <tbody>
        {pieces.map((piece) => (
          <tr key={piece.number} data-off={piece.replaced_by !== 0 || undefined}>
            <td>P-{piece.number}</td>
            <td>
              {piece.panel_name}
              {piece.reason !== "" && (
                <small>
                  {words.aftercare.instead} P-{piece.replaces}: {piece.reason}
                </small>
              )}
            </td>
            <td>{piece.film_name}</td>
            <td>
              <Link href={`/aftercare?lot=${encodeURIComponent(piece.lot)}`}>{piece.lot}</Link>
            </td>
            <td>
              {piece.at.slice(0, 10)} {piece.who}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
