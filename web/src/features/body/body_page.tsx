import { useMemo, useState } from "react";
import { useLocation, useSearch } from "wouter";
import type { Job } from "@/api/client";
import { useFilms, useStudy, useVehicle } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import { filmFor } from "./film_for";
import { PanelList } from "./panel_list";
import { StageFrame } from "./stage_frame";
import { StudySheet } from "./study_sheet";
import { strainOf } from "./strain";
import { Summary } from "./summary";
import classes from "./body.module.css";

/** The vehicle with its panels: pick one, see how film behaves on it. */
export default function BodyPage({ job }: { job: Job }) {
  const { words } = useReader();
  const vehicle = useVehicle(job.vehicle);
  const films = useFilms();
  const [path, go] = useLocation();
  const picked = new URLSearchParams(useSearch()).get("panel") ?? undefined;
  const [hovered, setHovered] = useState<string>();
  const [triangle, setTriangle] = useState<number>();
  const [shown, setShown] = useState<"strain" | "look">("strain");

  const panel = vehicle.data?.panels.find(({ id }) => id === picked);
  const film = panel && films.data && filmFor(panel, job, films.data);
  const study = useStudy(job.vehicle, panel?.id, film?.id);
  const strain = useMemo(() => study.data && strainOf(study.data), [study.data]);

  const pick = (id: string | undefined) => {
    setTriangle(undefined);
    go(id === undefined ? path : `${path}?panel=${encodeURIComponent(id)}`, { replace: true });
  };

  const fault = vehicle.error ?? films.error;
  if (fault)
    return (
      <div className={classes.fault}>
        <Trouble error={fault} again={() => void vehicle.refetch()} />
      </div>
    );
  return (
    <div className={classes.page}>
      <PanelList
        panels={vehicle.data?.panels}
        job={job}
        picked={picked}
        hovered={hovered}
        onPick={pick}
        onHover={setHovered}
      />
      <StageFrame
        vehicle={vehicle.data}
        job={job}
        films={films.data}
        picked={panel?.id}
        hovered={hovered}
        strain={shown === "strain" ? strain : undefined}
        triangle={triangle}
        shown={shown}
        onShown={setShown}
        onPick={pick}
        onHover={setHovered}
        onTriangle={setTriangle}
      />
      <aside
        className={classes.study}
        tabIndex={0}
        aria-label={panel?.name ?? words.bodyPage.summary}
        aria-busy={study.isFetching}
      >
        {panel && film ? (
          <StudySheet
            key={panel.id}
            panel={panel}
            film={film}
            inJob={job.scope.some((entry) => entry.panel === panel.id)}
            study={study.data}
            strain={strain}
            error={study.error}
            again={() => void study.refetch()}
            triangle={triangle}
            onTriangle={setTriangle}
          />
        ) : (
          <Summary job={job} vehicle={vehicle.data} films={films.data} />
        )}
      </aside>
    </div>
  );
}
