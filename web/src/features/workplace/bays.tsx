import { Button, Checkbox, TextInput } from "@mantine/core";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import { type BayForm, replaced } from "./form";
import type { PartProps } from "./part";
import classes from "./workplace.module.css";

export function Bays({ place, set }: PartProps) {
  const { words } = useReader();
  const change = (index: number, bay?: BayForm) =>
    set({ ...place, bays: replaced(place.bays, index, bay) });
  return (
    <Sheet
      title={words.workplace.bays}
      actions={
        <Button
          size="xs"
          variant="default"
          onClick={() =>
            set({ ...place, bays: [...place.bays, { id: words.workplace.newBay, features: [] }] })
          }
        >
          {words.workplace.addBay}
        </Button>
      }
    >
      {place.bays.map((bay, index) => (
        <fieldset key={index} className={classes.row} aria-label={bay.id}>
          <TextInput
            size="xs"
            label={words.workplace.name}
            value={bay.id}
            required
            onChange={(event) => change(index, { ...bay, id: event.currentTarget.value })}
          />
          {place.features.map((feature) => (
            <Checkbox
              size="xs"
              key={feature}
              label={feature}
              checked={bay.features.includes(feature)}
              onChange={(event) =>
                change(index, {
                  ...bay,
                  features: chosen(bay, feature, event.currentTarget.checked),
                })
              }
            />
          ))}
          <Button size="compact-sm" variant="subtle" color="red" onClick={() => change(index)}>
            {words.workplace.remove(bay.id)}
          </Button>
        </fieldset>
      ))}
    </Sheet>
  );
}

function chosen(bay: BayForm, feature: string, has: boolean) {
  const others = bay.features.filter((one) => one !== feature);
  return has ? [...others, feature] : others;
}
