import { Button, Checkbox, NativeSelect, NumberInput, TextInput } from "@mantine/core";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { replaced, type TaskForm, type WaitForm } from "./form";
import type { PartProps } from "./part";
import classes from "./workplace.module.css";

const kinds = [
  "job",
  "correction",
  "badges",
  "film",
  "zone",
  "window",
  "lamp",
  "coat",
  "coating",
] as const;

/** The kinds of task a job's scope becomes, each with what it waits for. */
export function Way({ place, set }: PartProps) {
  const { words } = useReader();
  const templates = place.templates;
  if (!templates) return null;
  const change = (index: number, task?: TaskForm) =>
    set({ ...place, templates: { ...templates, tasks: replaced(templates.tasks, index, task) } });
  return (
    <Sheet
      title={words.workplace.way}
      actions={
        <Button
          size="xs"
          variant="default"
          onClick={() =>
            set({
              ...place,
              templates: {
                ...templates,
                tasks: [...templates.tasks, { id: words.workplace.newTask, hours: 1 }],
              },
            })
          }
        >
          {words.workplace.addTask}
        </Button>
      }
    >
      <p className={classes.hint}>{words.workplace.wayHint}</p>
      {templates.tasks.map((task, index) => (
        <details key={index} className={classes.task}>
          <summary>
            <b>{task.id}</b> {words.workplace.kinds[kindOf(task)]}
            {task.stage ? ` · ${task.stage}` : ""}
          </summary>
          <TaskFields
            task={task}
            place={place}
            stages={templates.stages.map(({ id }) => id)}
            others={templates.tasks.map(({ id }) => id)}
            set={(next) => change(index, next)}
          />
          <Button size="compact-sm" variant="subtle" color="red" onClick={() => change(index)}>
            {words.workplace.remove(task.id)}
          </Button>
        </details>
      ))}
    </Sheet>
  );
}

const kindOf = (task: TaskForm) => kinds.find((kind) => kind === task.per) ?? "job";

interface TaskProps {
  task: TaskForm;
  place: PartProps["place"];
  stages: string[];
  others: string[];
  set: (task: TaskForm) => void;
}

function TaskFields({ task, place, stages, others, set }: TaskProps) {
  const { words } = useReader();
  const waits = task.after ?? [];
  const wait = (index: number, one?: WaitForm) =>
    set({ ...task, after: replaced(waits, index, one) });
  return (
    <>
      <div className={classes.line}>
        <TextInput
          size="xs"
          label={words.workplace.name}
          value={task.id}
          required
          onChange={(event) => set({ ...task, id: event.currentTarget.value })}
        />
        <NativeSelect
          size="xs"
          label={words.workplace.per}
          value={kindOf(task)}
          data={kinds.map((value) => ({ value, label: words.workplace.kinds[value] }))}
          onChange={(event) => set({ ...task, per: event.currentTarget.value })}
        />
        <NumberInput
          size="xs"
          label={words.workplace.hours}
          w={110}
          min={0}
          max={1000}
          step={0.25}
          value={task.hours ?? 0}
          onChange={(value) => set({ ...task, hours: Number(value) })}
        />
        <NumberInput
          size="xs"
          label={words.workplace.share}
          w={130}
          min={0}
          max={10}
          step={0.05}
          value={task.share ?? 0}
          onChange={(value) => set({ ...task, share: Number(value) })}
        />
        <NativeSelect
          size="xs"
          label={words.workplace.skill}
          value={task.skill ?? ""}
          data={[{ value: "", label: words.workplace.noHands }, ...place.skills]}
          onChange={(event) => set({ ...task, skill: event.currentTarget.value })}
        />
        <NumberInput
          size="xs"
          label={words.workplace.level}
          w={90}
          min={1}
          max={9}
          value={task.level ?? 1}
          onChange={(value) => set({ ...task, level: Number(value) })}
        />
        <NativeSelect
          size="xs"
          label={words.workplace.stage}
          value={task.stage ?? ""}
          data={[{ value: "", label: words.workplace.noVehicle }, ...stages]}
          onChange={(event) => set({ ...task, stage: event.currentTarget.value })}
        />
        <Checkbox
          size="xs"
          label={words.workplace.inOneGo}
          checked={task.in_one_go ?? false}
          onChange={(event) => set({ ...task, in_one_go: event.currentTarget.checked })}
        />
        <Checkbox
          size="xs"
          label={words.workplace.plotter}
          checked={task.plotter ?? false}
          onChange={(event) => set({ ...task, plotter: event.currentTarget.checked })}
        />
      </div>
      {waits.map((one, index) => (
        <div key={index} className={classes.line}>
          <NativeSelect
            size="xs"
            label={words.workplace.after}
            value={one.task}
            data={others}
            onChange={(event) => wait(index, { ...one, task: event.currentTarget.value })}
          />
          <NumberInput
            size="xs"
            label={words.workplace.leastHours}
            w={130}
            min={0}
            max={1000}
            step={0.25}
            value={one.least_hours ?? 0}
            onChange={(value) => wait(index, { ...one, least_hours: Number(value) })}
          />
          <NumberInput
            size="xs"
            label={words.workplace.mostHours}
            w={150}
            min={0}
            max={1000}
            step={0.25}
            value={one.most_hours ?? 0}
            onChange={(value) => wait(index, { ...one, most_hours: Number(value) })}
          />
          <Button size="compact-sm" variant="subtle" color="red" onClick={() => wait(index)}>
            {words.workplace.removeWait}
          </Button>
        </div>
      ))}
      <Button
        size="compact-sm"
        variant="subtle"
        onClick={() => set({ ...task, after: [...waits, { task: others[0] ?? "" }] })}
      >
        {words.workplace.addWait}
      </Button>
    </>
  );
}
