import { Table } from "@mantine/core";
import { useLedger } from "@/api/stock_queries";
import { Dialog } from "@/parts/dialog";
import { Trouble } from "@/parts/trouble";
import { useReader } from "@/words/preferences";

/** Every line of a roll's ledger; what remains is their sum. */
export function LedgerSheet({ roll, onClose }: { roll: string; onClose: () => void }) {
  const { words, format } = useReader();
  const ledger = useLedger(roll);
  return (
    <Dialog title={`${words.stockPage.ledger}: ${roll}`} onClose={onClose} size="lg">
      {ledger.error && <Trouble error={ledger.error} again={() => void ledger.refetch()} />}
      <Table>
        <Table.Tbody>
          {ledger.data?.lines.map((line, i) => (
            <Table.Tr key={i}>
              <Table.Td>{line.at.slice(0, 10)}</Table.Td>
              <Table.Td>{words.stockPage.verbs[line.verb]}</Table.Td>
              <Table.Td ta="right">{format.rollLength(line.change_mm)}</Table.Td>
              <Table.Td>{[line.job, line.why, line.who].filter(Boolean).join(" · ")}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
        <Table.Tfoot>
          <Table.Tr>
            <Table.Th colSpan={2}>{words.stockPage.left}</Table.Th>
            <Table.Th ta="right">
              {ledger.data && format.rollLength(ledger.data.roll.remaining_mm)}
            </Table.Th>
            <Table.Td />
          </Table.Tr>
        </Table.Tfoot>
      </Table>
    </Dialog>
  );
}
