import { Table } from "@mantine/core";
import type { JobGlass } from "@/api/client";
import { Note } from "@/ui/note";
import { Sheet } from "@/ui/sheet";
import { useReader } from "@/words/preferences";
import classes from "./glass.module.css";

/** What lamps and reflectors keep of their light. */
export function Lamps({ glass, nameOf }: { glass: JobGlass; nameOf: (film: string) => string }) {
  const { words, format } = useReader();
  const page = words.glassPage;
  const left = (shares: readonly number[], k: number) => {
    const share = shares[k];
    return share === undefined ? "–" : format.percent(share, 0);
  };
  return (
    <Sheet title={page.lamps}>
      <Note tone="caution" lines={words.cautions.lamp} />
      {glass.lamps.length === 0 ? (
        <p className={classes.small}>{page.noLamps}</p>
      ) : (
        <div className={classes.scroll} tabIndex={0} role="group" aria-label={page.lamps}>
          <Table className={classes.table}>
            <Table.Thead>
              <Table.Tr>
                <Table.Th>{page.lamp}</Table.Th>
                <Table.Th>{page.film}</Table.Th>
                <Table.Th ta="right">{page.left.white}</Table.Th>
                <Table.Th ta="right">{page.left.red}</Table.Th>
                <Table.Th ta="right">{page.left.amber}</Table.Th>
              </Table.Tr>
            </Table.Thead>
            <Table.Tbody>
              {glass.lamps.map((lamp) => (
                <Table.Tr key={lamp.panel}>
                  <Table.Td>{lamp.name}</Table.Td>
                  <Table.Td>
                    {nameOf(lamp.film)}
                    {lamp.left.length === 0 && <small>{page.unknownFilm}</small>}
                  </Table.Td>
                  <Table.Td ta="right">{left(lamp.left, 0)}</Table.Td>
                  <Table.Td ta="right">{left(lamp.left, 1)}</Table.Td>
                  <Table.Td ta="right">{left(lamp.left, 2)}</Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </div>
      )}
    </Sheet>
  );
}
