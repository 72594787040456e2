import { Button, NumberInput, SegmentedControl, Select, Table, TextInput } from "@mantine/core";
import { type FormEvent, useState } from "react";
import type { JobGlass, JobWindow } from "@/api/client";
import type { useRecordGlass } from "@/api/queries";
import { Trouble } from "@/parts/trouble";
import { Sheet } from "@/ui/sheet";
import { typedNumber } from "@/units/typed_number";
import { useReader } from "@/words/preferences";
import { VerdictMark } from "./verdict";
import classes from "./glass.module.css";

interface WindowsProps {
  glass: JobGlass;
  nameOf: (film: string) => string;
  reading: ReturnType<typeof useRecordGlass>["reading"];
}

/** Every window with what the meter read, before and after, and a form for the next reading. */
export function Windows({ glass, nameOf, reading }: WindowsProps) {
  const { words, format } = useReader();
  const page = words.glassPage;
  const read = (entry: JobWindow["before"]) =>
    entry
      ? `${format.percent(entry.transmittance)} ± ${format.number(100 * entry.uncertainty, 1)}`
      : page.notRead;
  return (
    <Sheet title={page.windows}>
      <div className={classes.scroll} tabIndex={0} role="group" aria-label={page.windows}>
        <Table className={classes.table}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th>{page.windowName}</Table.Th>
              <Table.Th>{page.film}</Table.Th>
              <Table.Th ta="right">{page.before}</Table.Th>
              <Table.Th ta="right">{page.expected}</Table.Th>
              <Table.Th ta="right">{page.after}</Table.Th>
              <Table.Th>{page.verdict}</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {glass.windows.map((window) => (
              <Table.Tr key={window.panel} data-bare={window.film === ""}>
                <Table.Td>
                  {window.name}
                  {window.position && <small>{page.positions[window.position]}</small>}
                </Table.Td>
                <Table.Td>{window.film ? nameOf(window.film) : "–"}</Table.Td>
                <Table.Td ta="right">{read(window.before)}</Table.Td>
                <Table.Td ta="right">
                  {window.visible && window.computed
                    ? `${format.percent(window.visible.value)}`
                    : "–"}
                </Table.Td>
                <Table.Td ta="right">{read(window.after)}</Table.Td>
                <Table.Td>
                  <VerdictMark ruling={window.ruling} quiet={window.film === ""} />
                  {window.film !== "" && <small lang="en">{window.ruling.reason}</small>}
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </div>
      <p className={classes.small}>{page.noAdvice.join(" ")}</p>
      <Reading windows={glass.windows} reading={reading} />
    </Sheet>
  );
}

function Reading({
  windows,
  reading,
}: {
  windows: readonly JobWindow[];
  reading: WindowsProps["reading"];
}) {
  const { words } = useReader();
  const page = words.glassPage;
  const [panel, setPanel] = useState(windows.find(({ film }) => film)?.panel ?? "");
  const [stage, setStage] = useState<"before" | "after">("after");
  const [value, setValue] = useState<number | string>("");
  const [points, setPoints] = useState<number | string>(2);
  const [meter, setMeter] = useState("");
  const [who, setWho] = useState("");
  const read = typedNumber(value);
  const within = typedNumber(points);
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (read === undefined || within === undefined || !panel) return;
    reading.mutate(
      {
        panel,
        stage,
        transmittance: read / 100,
        uncertainty: within / 100,
        meter,
        ...(who ? { who } : {}),
      },
      { onSuccess: () => setValue("") },
    );
  };
  return (
    <form className={classes.form} onSubmit={send} aria-label={page.read}>
      <Select
        label={page.windowName}
        value={panel}
        allowDeselect={false}
        onChange={(next) => next !== null && setPanel(next)}
        data={windows.map((one) => ({ value: one.panel, label: one.name }))}
      />
      <div>
        <div className={classes.label} id="when-read">
          {page.stage}
        </div>
        <SegmentedControl
          aria-labelledby="when-read"
          value={stage}
          onChange={(next) => setStage(next === "before" ? "before" : "after")}
          data={[
            { value: "before", label: page.before },
            { value: "after", label: page.after },
          ]}
        />
      </div>
      <NumberInput
        label={page.value}
        value={value}
        onChange={setValue}
        min={0}
        max={100}
        decimalScale={1}
        suffix=" %"
        required
        withAsterisk={false}
      />
      <NumberInput
        label={page.meter}
        value={points}
        onChange={setPoints}
        min={0.1}
        max={20}
        step={0.5}
        decimalScale={1}
        suffix={` ${page.points}`}
      />
      <TextInput
        label={page.meterName}
        value={meter}
        onChange={(event) => setMeter(event.currentTarget.value)}
      />
      <TextInput
        label={page.who}
        value={who}
        onChange={(event) => setWho(event.currentTarget.value)}
      />
      <Button type="submit" loading={reading.isPending} disabled={read === undefined}>
        {page.record}
      </Button>
      {reading.error && <Trouble error={reading.error} />}
    </form>
  );
}
