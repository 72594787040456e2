import { Button, Checkbox, NativeSelect } from "@mantine/core";
import type { Film, Panel, Proposal, ScopeItem } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./offer.module.css";

interface ScopeListProps {
  panels: readonly Panel[];
  films: readonly Film[];
  /** What the look proposes for every panel. */
  proposals: readonly Proposal[];
  scope: readonly ScopeItem[];
  onScope: (scope: ScopeItem[]) => void;
}

/** Every surface of the vehicle by zone: covered or not, with which film, and why. */
export function ScopeList({ panels, films, proposals, scope, onScope }: ScopeListProps) {
  const { words } = useReader();
  const page = words.offerPage;
  const filmOf = new Map(scope.map(({ panel, film }) => [panel, film]));
  const proposed = new Map(proposals.map((proposal) => [proposal.panel, proposal]));
  const suiting = (panel: Panel) => films.filter(({ suits }) => suits.includes(panel.finish));
  const put = (changed: ReadonlyMap<string, string>) =>
    onScope(
      panels.flatMap(({ id }) => {
        const film = changed.get(id);
        return film ? [{ panel: id, film }] : [];
      }),
    );
  const set = (ids: readonly Panel[], film: (panel: Panel) => string | undefined) => {
    const changed = new Map(filmOf);
    for (const panel of ids) {
      const chosen = film(panel);
      if (chosen) changed.set(panel.id, chosen);
      else changed.delete(panel.id);
    }
    put(changed);
  };
  const usual = (panel: Panel) => proposed.get(panel.id)?.film || undefined;
  const zones = [...new Set(panels.map(({ zone }) => zone))];
  return (
    <div className={classes.zones}>
      {zones.map((zone) => {
        const inside = panels.filter((panel) => panel.zone === zone && suiting(panel).length > 0);
        if (inside.length === 0) return null;
        const name = words.zones[zone] ?? zone;
        return (
          <fieldset key={zone} className={classes.zone}>
            <legend>
              {name}
              <Button
                size="compact-xs"
                variant="subtle"
                aria-label={`${name}: ${page.all}`}
                onClick={() => set(inside, (panel) => filmOf.get(panel.id) ?? usual(panel))}
              >
                {page.all}
              </Button>
              <Button
                size="compact-xs"
                variant="subtle"
                aria-label={`${name}: ${page.none}`}
                onClick={() => set(inside, () => undefined)}
              >
                {page.none}
              </Button>
            </legend>
            <ul>
              {inside.map((panel) => {
                const film = filmOf.get(panel.id);
                const why = proposed.get(panel.id);
                const side = panel.side === "centre" ? "" : `, ${words.sides[panel.side]}`;
                const label = `${panel.name}${side}`;
                return (
                  <li key={panel.id}>
                    <Checkbox
                      size="sm"
                      label={label}
                      description={film === why?.film || !film ? why?.reason : undefined}
                      checked={film !== undefined}
                      onChange={({ currentTarget }) =>
                        set([panel], () =>
                          currentTarget.checked
                            ? (usual(panel) ?? suiting(panel)[0]?.id)
                            : undefined,
                        )
                      }
                    />
                    <NativeSelect
                      size="xs"
                      aria-label={`${label}: ${page.film}`}
                      value={film ?? ""}
                      onChange={({ currentTarget }) =>
                        set([panel], () => currentTarget.value || undefined)
                      }
                      data={[
                        { value: "", label: page.bare },
                        ...suiting(panel).map(({ id, name: text }) => ({ value: id, label: text })),
                      ]}
                    />
                  </li>
                );
              })}
            </ul>
          </fieldset>
        );
      })}
    </div>
  );
}
