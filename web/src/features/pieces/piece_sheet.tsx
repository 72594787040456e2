import { Button, Table } from "@mantine/core";
import { useMemo, useRef } from "react";
import { Link } from "wouter";
import type { Job, JobPiece, Panel } from "@/api/client";
import { PieceDrawing } from "@/canvas/piece_drawing";
import { boxOf, heightOf, widthOf } from "@/geometry/view";
import { Cautions, cautionsOf } from "@/parts/cautions";
import { EdgeTable } from "@/parts/edge_table";
import { TakePicture } from "@/parts/take_picture";
import { Figure } from "@/ui/figure";
import { sentence } from "@/words/format";
import { useReader } from "@/words/preferences";
import { EdgeEditor } from "./edge_editor";
import { ringsOf } from "./rings";
import { Versions } from "./versions";
import classes from "./pieces.module.css";

interface PieceSheetProps {
  job: Job;
  chosen: JobPiece;
  panel: Panel | undefined;
  film: string;
  twin: string | undefined;
}

/** One piece with its measures and edges. */
export function PieceSheet({ job, chosen, panel, film, twin }: PieceSheetProps) {
  const { words, format } = useReader();
  const { piece, method } = chosen;
  const rings = useMemo(() => ringsOf(piece), [piece]);
  const picture = useRef<HTMLDivElement>(null);
  const box = boxOf(rings.cut);
  const facts = [
    film,
    words.zones[piece.zone] ?? piece.zone,
    ...(twin === undefined ? [] : [words.piecesPage.twinOf(twin)]),
    ...(piece.cut.holes.length > 0 ? [words.piecesPage.holes(piece.cut.holes.length)] : []),
  ];
  return (
    <div className={classes.sheet}>
      <header className={classes.pieceHead}>
        <div>
          <h2>{piece.name}</h2>
          <p>{facts.join(" · ")}</p>
        </div>
        <TakePicture of={picture} name={piece.name} />
      </header>
      <div ref={picture}>
        {method.choice === "precut" ? (
          <EdgeEditor job={job} piece={piece} original={twin} />
        ) : (
          <div className={classes.large}>
            <PieceDrawing label={piece.name} {...rings} />
          </div>
        )}
      </div>
      <Legend />
      <div className={classes.figures}>
        <Figure
          size="small"
          label={words.piecesPage.size}
          value={format.size(widthOf(box), heightOf(box))}
        />
        <Figure size="small" label={words.piecesPage.area} value={format.area(piece.area_mm2)} />
        <Figure
          size="small"
          label={words.piecesPage.grain}
          value={words.piecesPage.grains[piece.grain]}
        />
      </div>
      <section className={classes.method}>
        <h3>{words.methods[method.choice]}</h3>
        {method.reasons.map((reason) => (
          <p key={reason}>{sentence(reason)}</p>
        ))}
      </section>
      {method.choice !== "precut" && <EdgeTable edges={piece.edges} />}
      {panel && <Cautions names={cautionsOf(panel, method.choice)} />}
      <Button
        component={Link}
        variant="default"
        href={`/jobs/${encodeURIComponent(job.id)}/body?panel=${encodeURIComponent(chosen.panel)}`}
      >
        {words.piecesPage.onBody}
      </Button>
    </div>
  );
}

interface PiecesSummaryProps {
  vehicle: string;
  pieces: readonly JobPiece[];
  filmName: (film: string) => string;
}

/** Before a piece is picked: what there is of each film and how to read a drawing. */
export function PiecesSummary({ vehicle, pieces, filmName }: PiecesSummaryProps) {
  const { words, format } = useReader();
  const films = [...new Set(pieces.map(({ film }) => film))];
  const areaOf = (film?: string) =>
    pieces
      .filter((one) => film === undefined || one.film === film)
      .reduce((sum, { piece }) => sum + piece.area_mm2, 0);
  const bulk = pieces.filter(({ method }) => method.choice === "bulk").length;
  return (
    <div className={classes.sheet}>
      <header>
        <h2>{words.piecesPage.pick}</h2>
        <p>{words.piecesPage.pickText}</p>
      </header>
      <Legend />
      <div className={classes.figures}>
        <Figure label={words.piecesPage.area} value={format.area(areaOf())} />
        <Figure label={words.methods.precut} value={pieces.length - bulk} />
        <Figure label={words.methods.bulk} value={bulk} />
      </div>
      <Table verticalSpacing={7} horizontalSpacing={0}>
        <Table.Tbody>
          {films.map((film) => (
            <Table.Tr key={film}>
              <Table.Td>{filmName(film)}</Table.Td>
              <Table.Td ta="right">
                {words.piecesPage.count(pieces.filter((one) => one.film === film).length)}
              </Table.Td>
              <Table.Td ta="right">{format.area(areaOf(film))}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      <Versions vehicle={vehicle} />
    </div>
  );
}

function Legend() {
  const { words } = useReader();
  return (
    <ul className={classes.legend}>
      <li data-line="cut">{words.piecesPage.legendCut}</li>
      <li data-line="fold">{words.piecesPage.legendFold}</li>
    </ul>
  );
}
