import { Button, NumberInput, TextInput } from "@mantine/core";
import { useState } from "react";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { type Day, days, hoursText, type PersonForm, replaced, type Shift, shiftsOf } from "./form";
import type { PartProps } from "./part";
import classes from "./workplace.module.css";

interface PeopleProps extends PartProps {
  /** Whether what stands in a field can be understood. */
  tell: (field: string, wrong: boolean) => void;
}

export function People({ place, set, tell }: PeopleProps) {
  const { words } = useReader();
  const change = (index: number, person?: PersonForm) =>
    set({ ...place, people: replaced(place.people, index, person) });
  const add = () =>
    set({
      ...place,
      people: [...place.people, { id: words.workplace.newPerson, skills: {}, week: {} }],
    });
  return (
    <Sheet
      title={words.workplace.people}
      actions={
        <Button size="xs" variant="default" onClick={add}>
          {words.workplace.addPerson}
        </Button>
      }
    >
      <p className={classes.hint}>{words.workplace.hoursHint}</p>
      <div className={classes.people}>
        {place.people.map((person, index) => (
          <fieldset key={index} className={classes.person}>
            <legend>{person.id}</legend>
            <div className={classes.line}>
              <TextInput
                size="xs"
                w={156}
                label={words.workplace.name}
                value={person.id}
                required
                onChange={(event) => change(index, { ...person, id: event.currentTarget.value })}
              />
              {place.skills.map((skill) => (
                <NumberInput
                  key={skill}
                  label={skill}
                  w={98}
                  size="xs"
                  min={0}
                  max={9}
                  value={person.skills[skill] ?? 0}
                  onChange={(value) =>
                    change(index, { ...person, skills: skillsWith(person, skill, Number(value)) })
                  }
                />
              ))}
            </div>
            <div className={classes.line}>
              {days.map((day) => (
                <Hours
                  key={day}
                  label={words.workplace.days[day]}
                  shifts={person.week[day]}
                  tell={(wrong) => tell(`${index} ${day}`, wrong)}
                  set={(shifts) =>
                    change(index, { ...person, week: weekWith(person, day, shifts) })
                  }
                />
              ))}
            </div>
            <Away person={person} set={(next) => change(index, next)} />
            <div className={classes.line}>
              <Button
                size="compact-sm"
                variant="subtle"
                onClick={() =>
                  change(index, {
                    ...person,
                    away: [...(person.away ?? []), { from: "", until: "" }],
                  })
                }
              >
                {words.workplace.addAway}
              </Button>
              <Button
                size="compact-sm"
                variant="subtle"
                onClick={() => change(index, { ...person, week: asMonday(person) })}
              >
                {words.workplace.asMonday}
              </Button>
              <Button
                size="compact-sm"
                variant="subtle"
                color="red"
                onClick={() => {
                  for (const day of days) tell(`${index} ${day}`, false);
                  change(index);
                }}
              >
                {words.workplace.remove(person.id)}
              </Button>
            </div>
          </fieldset>
        ))}
      </div>
    </Sheet>
  );
}

function skillsWith(person: PersonForm, skill: string, level: number) {
  const others = Object.entries(person.skills).filter(([name]) => name !== skill);
  return Object.fromEntries(level > 0 ? [...others, [skill, level]] : others);
}

const weekWith = (person: PersonForm, day: Day, shifts: Shift[]) =>
  Object.fromEntries(
    days.flatMap((one) => {
      const worked = one === day ? shifts : (person.week[one] ?? []);
      return worked.length > 0 ? [[one, worked]] : [];
    }),
  );

function asMonday(person: PersonForm) {
  const { mon, sat, sun } = person.week;
  return {
    ...(mon ? { mon, tue: mon, wed: mon, thu: mon, fri: mon } : {}),
    ...(sat ? { sat } : {}),
    ...(sun ? { sun } : {}),
  };
}

interface HoursProps {
  label: string;
  shifts: Shift[] | undefined;
  tell: (wrong: boolean) => void;
  set: (shifts: Shift[]) => void;
}

/** Hours of a day as text; what cannot be understood is kept as typed and told. */
function Hours({ label, shifts, tell, set }: HoursProps) {
  const { words } = useReader();
  const kept = hoursText(shifts);
  const [typed, setTyped] = useState<string>();
  return (
    <TextInput
      label={label}
      w={162}
      size="xs"
      placeholder={words.workplace.free}
      value={typed ?? kept}
      error={typed !== undefined && shiftsOf(typed) === undefined}
      onChange={(event) => {
        const text = event.currentTarget.value;
        const read = shiftsOf(text);
        setTyped(text);
        tell(read === undefined);
        if (read) set(read);
      }}
      onBlur={() => {
        if (typed !== undefined && shiftsOf(typed)) setTyped(undefined);
      }}
    />
  );
}

function Away({ person, set }: { person: PersonForm; set: (person: PersonForm) => void }) {
  const { words } = useReader();
  const away = person.away ?? [];
  const change = (index: number, one?: { from: string; until: string }) =>
    set({ ...person, away: replaced(away, index, one) });
  return (
    <>
      {away.map((one, index) => (
        <div key={index} className={classes.line}>
          <TextInput
            size="xs"
            type="datetime-local"
            label={words.workplace.awayFrom}
            value={one.from}
            required
            onChange={(event) => change(index, { ...one, from: event.currentTarget.value })}
          />
          <TextInput
            size="xs"
            type="datetime-local"
            label={words.workplace.awayUntil}
            value={one.until}
            required
            onChange={(event) => change(index, { ...one, until: event.currentTarget.value })}
          />
          <Button size="compact-sm" variant="subtle" color="red" onClick={() => change(index)}>
            {words.workplace.removeAway}
          </Button>
        </div>
      ))}
    </>
  );
}
