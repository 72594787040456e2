import { Button } from "@mantine/core";
import { useState } from "react";
import type { Film, Offcut, Supply } from "@/api/client";
import { useFilms } from "@/api/queries";
import { useStock } from "@/api/stock_queries";
import { OutlinePicture } from "@/parts/outline_picture";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";
import { ChangeSheet } from "./change_sheet";
import { OffcutSheet } from "./offcut_sheet";
import { ReceiveSheet } from "./receive_sheet";
import { RollLine } from "./roll_line";
import { SupplySheet } from "./supply_sheet";
import classes from "./stock.module.css";

type Open = "receive" | "offcut";

/** All film at hand: rolls to scale, the offcut shelf, and what to order. */
export default function StockPage() {
  const { words } = useReader();
  const stock = useStock();
  const films = useFilms();
  const [open, setOpen] = useState<Open>();
  const named = (id: string) => films.data?.find((film) => film.id === id);
  const rolls = stock.data?.rolls ?? [];
  const longest = Math.max(1, ...rolls.map(({ length_mm }) => length_mm));
  return (
    <div className={classes.page}>
      <header className={classes.head}>
        <h1>{words.stockPage.title}</h1>
        <div className={classes.actions}>
          <Button onClick={() => setOpen("receive")}>{words.stockPage.receive}</Button>
          <Button variant="default" onClick={() => setOpen("offcut")}>
            {words.stockPage.keepOffcut}
          </Button>
        </div>
      </header>
      {stock.error && <Trouble error={stock.error} again={() => void stock.refetch()} />}
      <section className={classes.rolls} aria-label={words.stockPage.rolls}>
        <h2>{words.stockPage.rolls}</h2>
        <ul>
          {rolls.map((roll) => (
            <RollLine key={roll.id} roll={roll} film={named(roll.film)} longest={longest} />
          ))}
        </ul>
      </section>
      <div className={classes.side}>
        <section aria-label={words.stockPage.order}>
          <h2>{words.stockPage.order}</h2>
          <Orders supplies={stock.data?.supplies ?? []} named={named} />
        </section>
        <section aria-label={words.stockPage.supplies}>
          <h2>{words.stockPage.supplies}</h2>
          <Supplies supplies={stock.data?.supplies ?? []} films={films.data ?? []} named={named} />
        </section>
        <section aria-label={words.stockPage.offcuts}>
          <h2>{words.stockPage.offcuts}</h2>
          <Shelf offcuts={stock.data?.offcuts ?? []} named={named} />
        </section>
      </div>
      {open === "receive" && (
        <ReceiveSheet films={films.data ?? []} onClose={() => setOpen(undefined)} />
      )}
      {open === "offcut" && (
        <OffcutSheet films={films.data ?? []} onClose={() => setOpen(undefined)} />
      )}
    </div>
  );
}

type Named = (film: string) => Film | undefined;

function Orders({ supplies, named }: { supplies: readonly Supply[]; named: Named }) {
  const { words, format } = useReader();
  const wanted = supplies.filter(({ rolls_to_order }) => rolls_to_order > 0);
  if (wanted.length === 0) return <p className={classes.soft}>{words.stockPage.enough}</p>;
  return (
    <ul className={classes.orders}>
      {wanted.map((supply) => (
        <li key={`${supply.film} ${supply.width_mm}`}>
          <strong>
            {named(supply.film)?.name ?? supply.film}, {format.length(supply.width_mm, 0)}
          </strong>
          <b>
            {words.stockPage.orderLine(supply.rolls_to_order)} ×{" "}
            {format.rollLength(supply.roll_length_mm)}
          </b>
          <span>
            {words.stockPage.by} {supply.order_by}
          </span>
          <span data-low={supply.low}>
            {format.rollLength(supply.in_stock_mm)} {words.stockPage.left}
            {supply.low && `, ${words.stockPage.isLow}`} · {words.stockPage.minimum}{" "}
            {format.rollLength(supply.minimum_mm)}
            {supply.needed_mm > 0 &&
              ` · ${words.stockPage.needed} ${format.rollLength(supply.needed_mm)}`}
          </span>
        </li>
      ))}
    </ul>
  );
}

interface SuppliesProps {
  supplies: readonly Supply[];
  films: readonly Film[];
  named: Named;
}

/** The least that is kept of each film and width, and how it is bought. */
function Supplies({ supplies, films, named }: SuppliesProps) {
  const { words, format } = useReader();
  const page = words.stockPage;
  const [open, setOpen] = useState<Supply | "new">();
  const nameOf = ({ film, width_mm }: Supply) =>
    `${named(film)?.name ?? film}, ${format.length(width_mm, 0)}`;
  return (
    <>
      <ul className={classes.supplies}>
        {supplies.map((supply) => (
          <li key={`${supply.film} ${supply.width_mm}`}>
            <div>
              <strong>{nameOf(supply)}</strong>
              <span data-low={supply.low}>
                {format.rollLength(supply.in_stock_mm)} {page.left} · {page.minimum}{" "}
                {format.rollLength(supply.minimum_mm)} · {page.leadTime(supply.lead_days)}
              </span>
            </div>
            <Button
              variant="subtle"
              size="compact-sm"
              onClick={() => setOpen(supply)}
              aria-label={`${page.changeSupply}: ${nameOf(supply)}`}
            >
              {page.change}
            </Button>
          </li>
        ))}
      </ul>
      <Button variant="default" size="compact-sm" mt={12} onClick={() => setOpen("new")}>
        {page.addSupply}
      </Button>
      {open && (
        <SupplySheet
          supply={open === "new" ? undefined : open}
          films={films}
          onClose={() => setOpen(undefined)}
        />
      )}
    </>
  );
}

function Shelf({ offcuts, named }: { offcuts: readonly Offcut[]; named: Named }) {
  const { words, format } = useReader();
  const [lost, setLost] = useState<Offcut>();
  if (offcuts.length === 0) return <p className={classes.soft}>{words.stockPage.noOffcuts}</p>;
  const lengthOf = ({ outline }: Offcut) => Math.max(...outline.outer.map(([x]) => x ?? 0));
  const widthOf = ({ outline }: Offcut) => Math.max(...outline.outer.map(([, y]) => y ?? 0));
  const across = Math.max(...offcuts.map(lengthOf));
  return (
    <>
      <ul className={classes.shelf}>
        {offcuts.map((offcut) => (
          <li key={offcut.id}>
            <OutlinePicture
              label={`${words.recut.offcut} ${offcut.id}`}
              outline={offcut.outline}
              across={across}
            />
            <div>
              <strong>
                {offcut.id} · {named(offcut.film)?.name ?? offcut.film}
              </strong>
              <span>
                {format.size(lengthOf(offcut), widthOf(offcut))} · {words.benchPage.lot}{" "}
                {offcut.lot}
                {offcut.from && ` · ${words.stockPage.from} ${offcut.from}`}
                {offcut.place && ` · ${offcut.place}`}
              </span>
              <Button
                className={classes.away}
                variant="subtle"
                size="compact-sm"
                onClick={() => setLost(offcut)}
                aria-label={`${words.stockPage.writeOff}: ${offcut.id}`}
              >
                {words.stockPage.writeOff}
              </Button>
            </div>
          </li>
        ))}
      </ul>
      {lost && (
        <ChangeSheet
          roll={{ id: lost.id, length_mm: lengthOf(lost), remaining_mm: lengthOf(lost) }}
          verb="written_off"
          first={lengthOf(lost)}
          onClose={() => setLost(undefined)}
        />
      )}
    </>
  );
}
