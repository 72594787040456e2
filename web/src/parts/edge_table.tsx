import { Table } from "@mantine/core";
import type { JobPiece } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

/** The edge stretches of a piece with their allowances. */
export function EdgeTable({ edges }: { edges: JobPiece["piece"]["edges"] }) {
  const { words, format } = useReader();
  return (
    <Table className={classes.edges} verticalSpacing={6} horizontalSpacing={0}>
      <Table.Thead>
        <Table.Tr>
          <Table.Th>{words.bodyPage.edge}</Table.Th>
          <Table.Th>{words.bodyPage.kind}</Table.Th>
          <Table.Th>{words.bodyPage.corner}</Table.Th>
          <Table.Th ta="right">{words.bodyPage.allowance}</Table.Th>
        </Table.Tr>
      </Table.Thead>
      <Table.Tbody>
        {edges.map((edge) => (
          <Table.Tr key={`${edge.ring} ${edge.first}`}>
            <Table.Td>{edge.name}</Table.Td>
            <Table.Td>{words.edgeKinds[edge.kind]}</Table.Td>
            <Table.Td>{words.corners[edge.corner]}</Table.Td>
            <Table.Td ta="right">{format.allowance(edge.allowance_mm)}</Table.Td>
          </Table.Tr>
        ))}
      </Table.Tbody>
    </Table>
  );
}
