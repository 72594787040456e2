import { ActionIcon, Button, NumberInput, Select, Switch } from "@mantine/core";
import type { Defect, Placement } from "@/api/client";
import { type LaidShape, placedBox } from "@/canvas/roll_picture";
import { fromUnit, mm, toUnit } from "@/units/length";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import classes from "./roll.module.css";

interface ToolbarProps {
  open: boolean;
  canUndo: boolean;
  canRedo: boolean;
  changed: boolean;
  clashes: number | undefined;
  keeping: boolean;
  snap: boolean;
  onSnap: (snap: boolean) => void;
  onUndo: () => void;
  onRedo: () => void;
  onFault: () => void;
  onSqueeze: () => void;
  onDrop: () => void;
  onKeep: () => void;
}

/** What a hand does with the whole layout. */
export function Toolbar(props: ToolbarProps) {
  const { words } = useReader();
  const { open, changed, clashes } = props;
  return (
    <div className={classes.toolbar} role="toolbar" aria-label={words.table.tools}>
      <ActionIcon
        variant="default"
        size={34}
        aria-label={words.table.undo}
        title={`${words.table.undo} (Ctrl+Z)`}
        disabled={!open || !props.canUndo}
        onClick={props.onUndo}
      >
        <Icon name="undo" />
      </ActionIcon>
      <ActionIcon
        variant="default"
        size={34}
        aria-label={words.table.redo}
        title={`${words.table.redo} (Ctrl+Shift+Z)`}
        disabled={!open || !props.canRedo}
        onClick={props.onRedo}
      >
        <Icon name="redo" />
      </ActionIcon>
      <Switch
        label={words.table.snap}
        title={words.table.snapText}
        checked={props.snap}
        disabled={!open}
        onChange={(event) => props.onSnap(event.currentTarget.checked)}
      />
      <Button variant="default" size="xs" h={34} disabled={!open} onClick={props.onFault}>
        {words.table.fault}
      </Button>
      <Button variant="default" size="xs" h={34} disabled={!open} onClick={props.onSqueeze}>
        {words.table.squeeze}
      </Button>
      <p className={classes.state} role="status" data-clash={(clashes ?? 0) > 0}>
        {(clashes ?? 0) > 0
          ? words.table.clashes(clashes ?? 0)
          : changed && clashes === 0
            ? words.table.clean
            : ""}
      </p>
      <Button variant="subtle" size="xs" h={34} disabled={!open || !changed} onClick={props.onDrop}>
        {words.table.back}
      </Button>
      <Button
        size="xs"
        h={34}
        disabled={!open || !changed || clashes !== 0}
        loading={props.keeping}
        onClick={props.onKeep}
      >
        {words.table.keep}
      </Button>
    </div>
  );
}

interface PieceToolsProps {
  open: boolean;
  piece: Placement | undefined;
  shape: LaidShape | undefined;
  locked: boolean;
  freeTurns: boolean;
  others: readonly LaidShape[];
  making: boolean;
  onPlace: (piece: Placement) => void;
  onTurn: (way: 1 | -1) => void;
  onTurnTo: (turn: number) => void;
  onLock: () => void;
  onSwap: (key: string) => void;
  onRoom: () => void;
}

/** The picked piece by numbers and buttons: all that dragging does. */
export function PieceTools(props: PieceToolsProps) {
  const { words } = useReader();
  const { piece, shape, open, locked } = props;
  if (!piece || !shape)
    return (
      <div className={classes.tools}>
        <strong>{words.table.nothing}</strong>
        <span className={classes.hint}>{words.table.nothingText}</span>
      </div>
    );
  const free = open && !locked;
  const box = placedBox(shape);
  return (
    <div className={classes.tools}>
      <strong>{shape.name}</strong>
      <Length
        label={words.table.along}
        value={box.left}
        disabled={!free}
        onValue={(left) => props.onPlace({ ...piece, x_mm: piece.x_mm + left - box.left })}
      />
      <Length
        label={words.table.across}
        value={box.bottom}
        disabled={!free}
        onValue={(low) => props.onPlace({ ...piece, y_mm: piece.y_mm + low - box.bottom })}
      />
      {props.freeTurns && (
        <NumberInput
          label={words.table.turn}
          value={Math.round(piece.turn_deg * 10) / 10}
          onChange={(value) => typeof value === "number" && props.onTurnTo(value)}
          suffix="°"
          step={1}
          decimalScale={1}
          disabled={!free}
          className={classes.number}
        />
      )}
      <div className={classes.pair}>
        <ActionIcon
          variant="default"
          size={34}
          aria-label={words.table.turnOn}
          title={words.table.turnOn}
          disabled={!free}
          onClick={() => props.onTurn(1)}
        >
          <Icon name="turnOn" />
        </ActionIcon>
        <ActionIcon
          variant="default"
          size={34}
          aria-label={words.table.turnBack}
          title={words.table.turnBack}
          disabled={!free}
          onClick={() => props.onTurn(-1)}
        >
          <Icon name="turnBack" />
        </ActionIcon>
      </div>
      <Button
        variant={locked ? "filled" : "default"}
        size="xs"
        h={34}
        disabled={!open}
        aria-pressed={locked}
        onClick={props.onLock}
      >
        {locked ? words.table.unlock : words.table.lock}
      </Button>
      <Select
        aria-label={words.table.swap}
        placeholder={words.table.swap}
        value={null}
        searchable
        disabled={!free}
        data={props.others.map(({ key, name }) => ({ value: key, label: name }))}
        onChange={(key) => key !== null && props.onSwap(key)}
        className={classes.swap}
      />
      <Button
        variant="default"
        size="xs"
        h={34}
        disabled={!open}
        loading={props.making}
        onClick={props.onRoom}
      >
        {words.table.room}
      </Button>
    </div>
  );
}

interface FaultToolsProps {
  open: boolean;
  number: number;
  defect: Defect;
  onDefect: (defect: Defect | undefined) => void;
}

/** A faulty place of the film by numbers. */
export function FaultTools({ open, number, defect, onDefect }: FaultToolsProps) {
  const { words } = useReader();
  const field = (label: string, name: keyof Defect, least: number) => (
    <Length
      label={label}
      value={defect[name]}
      least={least}
      disabled={!open}
      onValue={(value) => onDefect({ ...defect, [name]: value })}
    />
  );
  return (
    <div className={classes.tools}>
      <strong>{words.table.faultOf(number)}</strong>
      {field(words.table.along, "x_mm", 0)}
      {field(words.table.across, "y_mm", 0)}
      {field(words.table.length, "length_mm", 1)}
      {field(words.table.width, "width_mm", 1)}
      <Button
        variant="default"
        size="xs"
        h={34}
        disabled={!open}
        onClick={() => onDefect(undefined)}
      >
        {words.table.remove}
      </Button>
    </div>
  );
}

interface LengthProps {
  label: string;
  value: number; // mm
  least?: number;
  disabled: boolean;
  onValue: (value: number) => void;
}

/** A length in the reader's unit. A value that only differs by rounding is no change. */
function Length({ label, value, least, disabled, onValue }: LengthProps) {
  const { unit } = useReader();
  const digits = unit === "mm" ? 1 : 2;
  const shown = Number(toUnit(mm(value), unit).toFixed(digits));
  return (
    <NumberInput
      label={label}
      value={shown}
      onChange={(next) =>
        typeof next === "number" && next !== shown && onValue(fromUnit(next, unit))
      }
      suffix={` ${unit}`}
      step={unit === "mm" ? 1 : 0.05}
      decimalScale={digits}
      {...(least !== undefined && { min: toUnit(mm(least), unit) })}
      disabled={disabled}
      className={classes.number}
    />
  );
}
