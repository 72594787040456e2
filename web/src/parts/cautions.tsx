import type { MethodChoice, Panel } from "@/api/client";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import type { Words } from "@/words/en";

type Caution = keyof Words["cautions"];

/** What to be careful of on this panel, the gravest first. */
export function cautionsOf(panel: Panel, method: MethodChoice | undefined): Caution[] {
  const cautions: Caution[] = [];
  if (panel.finish === "lamp" || panel.finish === "reflector" || panel.finish === "glass")
    cautions.push(panel.finish);
  if (panel.sensor) cautions.push("sensor");
  if (panel.badge) cautions.push("badge");
  if (method === "bulk") cautions.push("bulk");
  return cautions;
}

export function Cautions({ names }: { names: readonly Caution[] }) {
  const { words } = useReader();
  return names.map((name) => <Note key={name} tone="caution" lines={words.cautions[name]} />);
}
