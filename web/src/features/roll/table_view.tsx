import { type KeyboardEvent, useMemo, useRef, useState } from "react";
import type { Defect, Layout, Placement } from "@/api/client";
import { type LaidShape, placedBox } from "@/canvas/roll_picture";
import { kept, type Rest, rest } from "@/geometry/snap";
import type { Box, FilmPoint } from "@/geometry/view";
import { type Hand, RollView } from "@/parts/roll_view";
import { useReader } from "@/words/preferences";
import { TableOverlay } from "./carried";
import { keyOf } from "./laid_shapes";
import { FaultTools, PieceTools, Toolbar } from "./tools";
import { type RollTable, usedBy } from "./use_table";
import classes from "./roll.module.css";

interface TableViewProps {
  layout: Layout;
  table: RollTable;
  /** Whether the layout may be changed. */
  open: boolean;
  picked: string | undefined;
  onPick: (key: string | undefined) => void;
  /** While a piece is carried: the length that the layout would take. */
  onLength: (length: number | undefined) => void;
  onSqueeze: () => void;
}

/** What is carried: a piece or a fault, and where the pointer took hold of it. */
interface Carried {
  key: string;
  from: FilmPoint;
  piece?: Placement;
  defect?: Defect;
  lines: Pick<Rest, "x" | "y">;
}

const noLines = { x: undefined, y: undefined };
const faultKey = (index: number) => `fault ${index}`;
const faultOf = (key: string | undefined) =>
  key?.startsWith("fault ") ? Number(key.slice(6)) : undefined;

/** The roll with a hand on it: pieces and faults are dragged, or moved by keys and numbers. */
export function TableView({
  layout,
  table,
  open,
  picked,
  onPick,
  onLength,
  onSqueeze,
}: TableViewProps) {
  const { words, unit } = useReader();
  const [carried, setCarried] = useState<Carried>();
  const taken = useRef<Carried>(undefined);
  const { now, shapes } = table;

  const piece = picked === undefined ? undefined : table.pieceOf(picked);
  const fault = faultOf(picked);
  const lifted = carried?.piece && carried.key;
  const place = useMemo(
    () => ({
      film: filmOf(layout),
      gap: layout.gap_mm,
      others: shapes.filter(({ key }) => key !== lifted).map((shape) => placedBox(shape)),
    }),
    [layout, shapes, lifted],
  );
  const shown = useMemo(
    () => shapes.map((shape) => (shape.key === lifted ? { ...shape, carried: true } : shape)),
    [shapes, lifted],
  );
  const moving = useMemo(() => movedShape(shapes, carried), [shapes, carried]);

  const hand: Hand = {
    take: (key, at) => {
      onPick(key);
      const index = faultOf(key);
      const defect = index === undefined ? undefined : now.defects[index];
      const held = table.pieceOf(key);
      if (!open || now.locked.has(key) || (!held && !defect)) return false;
      taken.current = {
        key,
        from: at,
        lines: noLines,
        ...(held && { piece: held }),
        ...(defect && { defect }),
      };
      return true;
    },
    carry: (at, near, free) => {
      const start = taken.current;
      if (!start) return;
      const [dx, dy] = [at.x - start.from.x, at.y - start.from.y];
      if (start.defect) {
        const { x_mm, y_mm } = start.defect;
        setCarried({
          ...start,
          defect: { ...start.defect, x_mm: Math.max(0, x_mm + dx), y_mm: y_mm + dy },
        });
        return;
      }
      const shape = table.shapeOf(start.key);
      if (!start.piece || !shape) return;
      const way = kept(placedBox(shape), dx, dy, place.film);
      const box = moved(placedBox(shape), way.dx, way.dy);
      const still = table.snap && !free ? rest(box, place, near) : { dx: 0, dy: 0, ...noLines };
      const there = {
        ...start.piece,
        x_mm: start.piece.x_mm + way.dx + still.dx,
        y_mm: start.piece.y_mm + way.dy + still.dy,
      };
      setCarried({ ...start, piece: there, lines: { x: still.x, y: still.y } });
      table.check(there);
      const right = Math.max(box.right + still.dx, ...place.others.map((other) => other.right));
      onLength(right + layout.margins.end_mm);
    },
    put: () => {
      const index = faultOf(carried?.key);
      if (carried?.defect && index !== undefined) table.defect(index, carried.defect);
      if (carried?.piece) void table.put(carried.piece);
      taken.current = undefined;
      setCarried(undefined);
      onLength(undefined);
    },
    press: (event) => press(event),
  };

  const press = (event: KeyboardEvent): boolean => {
    const control = event.ctrlKey || event.metaKey;
    if (control && event.key.toLowerCase() === "z" && open) {
      if (event.shiftKey) table.redo();
      else table.undo();
      return true;
    }
    if (control && event.key.toLowerCase() === "y" && open) {
      table.redo();
      return true;
    }
    if (picked === undefined || control) return false;
    if (event.key === "Escape") {
      onPick(undefined);
      return true;
    }
    if (!open) return false;
    if (event.key === "l" || event.key === "L") {
      if (piece) table.lock(picked);
      return piece !== undefined;
    }
    if (now.locked.has(picked)) return false;
    const step = (unit === "mm" ? 1 : 25.4 / 16) * (event.shiftKey ? 10 : 1);
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[
      event.key
    ];
    const [dx, dy] = [(way?.[0] ?? 0) * step, (way?.[1] ?? 0) * step];
    const defect = fault === undefined ? undefined : now.defects[fault];
    if (way && piece) table.place({ ...piece, x_mm: piece.x_mm + dx, y_mm: piece.y_mm + dy });
    else if (way && defect && fault !== undefined)
      table.defect(fault, {
        ...defect,
        x_mm: Math.max(0, defect.x_mm + dx),
        y_mm: defect.y_mm + dy,
      });
    else if (event.key === "Delete" && fault !== undefined) table.defect(fault, undefined);
    else if (event.key === "," && piece) table.turn(picked, 1);
    else if (event.key === "." && piece) table.turn(picked, -1);
    else return false;
    return true;
  };

  const clashes = useMemo(() => table.found?.clashes ?? [], [table.found]);
  const clashing = useMemo(() => {
    const keys = new Set(clashes.flatMap(({ pieces }) => pieces.map(keyOf)));
    return shapes
      .filter(({ key }) => keys.has(key))
      .map((shape) => (moving?.key === shape.key ? moving : shape));
  }, [clashes, shapes, moving]);
  const locked = useMemo(
    () => shapes.filter(({ key }) => now.locked.has(key)),
    [shapes, now.locked],
  );
  const length = carried ? layout.length_mm : usedBy(layout, shapes).length;

  return (
    <div className={classes.table}>
      <Toolbar
        open={open}
        canUndo={table.canUndo}
        canRedo={table.canRedo}
        changed={table.changed}
        clashes={table.found?.clashes.length}
        keeping={table.keeping}
        snap={table.snap}
        onSnap={table.setSnap}
        onUndo={table.undo}
        onRedo={table.redo}
        onFault={() => onPick(faultKey(table.addDefect(alongOf(piece, layout))))}
        onSqueeze={onSqueeze}
        onDrop={table.drop}
        onKeep={table.keep}
      />
      {fault !== undefined && now.defects[fault] ? (
        <FaultTools
          open={open}
          number={fault + 1}
          defect={now.defects[fault]}
          onDefect={(defect) => table.defect(fault, defect)}
        />
      ) : (
        <PieceTools
          open={open}
          piece={piece}
          shape={piece && picked !== undefined ? table.shapeOf(picked) : undefined}
          locked={picked !== undefined && now.locked.has(picked)}
          freeTurns={picked !== undefined && table.turnsOf(picked).length === 0}
          others={shapes.filter(({ key }) => key !== picked && !now.locked.has(key))}
          making={table.making}
          onPlace={table.place}
          onTurn={(way) => picked !== undefined && table.turn(picked, way)}
          onTurnTo={(turn) => picked !== undefined && table.turnTo(picked, turn)}
          onLock={() => picked !== undefined && table.lock(picked)}
          onSwap={(key) => picked !== undefined && table.swap(picked, key)}
          onRoom={() => picked !== undefined && void table.room(picked)}
        />
      )}
      <RollView
        label={words.rollPage.picture}
        width={layout.width_mm}
        length={length}
        shapes={shown}
        picked={picked}
        onPick={onPick}
        names
        hand={hand}
        beside={
          <Faults
            defects={now.defects}
            picked={fault}
            carried={carried?.defect && { index: faultOf(carried.key) ?? -1, at: carried.defect }}
          />
        }
        over={(view, size) => (
          <TableOverlay
            view={view}
            size={size}
            carried={moving}
            lines={carried?.lines ?? noLines}
            clashing={clashing}
            locked={locked}
          />
        )}
      />
      <p className={classes.spoken}>{open ? words.table.keys : words.table.closed}</p>
    </div>
  );
}

interface FaultsProps {
  defects: readonly Defect[];
  picked: number | undefined;
  carried: { index: number; at: Defect } | undefined;
}

/** Faulty places of the film, crossed out. */
function Faults({ defects, picked, carried }: FaultsProps) {
  const { words } = useReader();
  return defects.map((defect, index) => {
    const { x_mm, y_mm, length_mm, width_mm } = carried?.index === index ? carried.at : defect;
    return (
      <g
        key={index}
        data-key={faultKey(index)}
        data-picked={picked === index}
        className={classes.fault}
      >
        <rect x={x_mm} y={y_mm} width={length_mm} height={width_mm} />
        <path
          d={`M${x_mm} ${y_mm}l${length_mm} ${width_mm}m0 ${-width_mm}l${-length_mm} ${width_mm}`}
        />
        <title>{words.table.faultOf(index + 1)}</title>
      </g>
    );
  });
}

function movedShape(shapes: readonly LaidShape[], carried: Carried | undefined) {
  const shape = shapes.find(({ key }) => key === carried?.key);
  if (!shape || !carried?.piece) return undefined;
  const { x_mm, y_mm, turn_deg } = carried.piece;
  return { ...shape, x: x_mm, y: y_mm, turn: turn_deg };
}

const moved = (box: Box, dx: number, dy: number): Box => ({
  left: box.left + dx,
  right: box.right + dx,
  bottom: box.bottom + dy,
  top: box.top + dy,
});

const filmOf = ({ width_mm, most_mm, margins }: Layout): Box => ({
  left: margins.start_mm,
  right: most_mm - margins.end_mm,
  bottom: margins.low_mm,
  top: width_mm - margins.high_mm,
});

/** Where a new fault is put: by the picked piece, or at the start of the roll. */
const alongOf = (piece: Placement | undefined, layout: Layout) =>
  piece?.x_mm ?? Math.min(500, layout.length_mm / 2);
