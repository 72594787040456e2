import type { Price, WorkNeed } from "@/api/client";
import { Note } from "@/ui/note";
import { useReader } from "@/words/preferences";
import classes from "./offer.module.css";

interface FiguresProps {
  work: WorkNeed;
  price: Price;
  currency: string;
}

/** Film, time and price of one alternative, and on what each figure rests. */
export function Figures({ work, price, currency }: FiguresProps) {
  const { words, format } = useReader();
  const page = words.offerPage;
  const money = (minor: number) => format.money(minor, currency);
  const minutes = (count: number) => format.duration(count * 60).replace(/\s00\ss$/, "");
  return (
    <div className={classes.figures}>
      <p className={classes.total}>
        <span>{page.total}</span>
        <strong>{money(price.total)}</strong>
      </p>
      <table className={classes.lines}>
        <tbody>
          {price.lines.map((line) => (
            <tr key={`${line.kind} ${line.film} ${line.measure}`}>
              <th scope="row">
                {line.kind === "film" ? line.name : page.kinds[line.kind]}
                {line.measure === "mm2" && <small>{format.area(line.quantity)}</small>}
                {line.measure === "minute" && <small>{minutes(line.quantity)}</small>}
              </th>
              <td>{money(line.net)}</td>
            </tr>
          ))}
          {price.discount > 0 && (
            <tr>
              <th scope="row">{page.discount}</th>
              <td>{money(-price.discount)}</td>
            </tr>
          )}
          <tr className={classes.sum}>
            <th scope="row">{page.net}</th>
            <td>{money(price.net - price.discount)}</td>
          </tr>
          {price.taxes.map(({ rate, tax }) => (
            <tr key={rate}>
              <th scope="row">
                {page.tax} {format.percent(rate / 1e6, rate % 10_000 === 0 ? 0 : 3)}
              </th>
              <td>{money(tax)}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{page.deposit}</th>
            <td>{money(price.deposit)}</td>
          </tr>
        </tbody>
      </table>
      <h3>{page.need}</h3>
      <ul className={classes.need}>
        {work.films.map((film) => (
          <li key={film.film}>
            <span>
              {film.name}
              <small>{page.bases[film.basis]}</small>
            </span>
            <span data-short={film.length > film.in_stock || undefined}>
              {film.length > 0 ? format.rollLength(film.length) : format.area(film.needed)}
              <small title={film.length > film.in_stock ? page.short : undefined}>
                {format.rollLength(film.in_stock)} {page.stock}
              </small>
            </span>
          </li>
        ))}
      </ul>
      <h3>{page.laying}</h3>
      <p>
        <strong>{minutes(work.minutes.expected)}</strong>{" "}
        <small>{page.range(minutes(work.minutes.low), minutes(work.minutes.high))}</small>
      </p>
      <details>
        <summary>{page.forShop}</summary>
        <p>
          {page.cost} {money(price.cost)}, {page.margin} {format.percent(price.margin / 1e6)}
        </p>
        {work.notes.map((note) => (
          <p key={note}>{note}</p>
        ))}
      </details>
      {price.thin && <Note tone="caution" lines={[page.thin]} />}
    </div>
  );
}
