import { Table, UnstyledButton } from "@mantine/core";
import type { JobPiece } from "@/api/client";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

interface EdgeTableProps {
  edges: JobPiece["piece"]["edges"];
  picked?: string | undefined;
  onPick?: ((edge: string) => void) | undefined;
}

/** The edge stretches of a piece with their allowances; where they can be picked, by their names. */
export function EdgeTable({ edges, picked, onPick }: EdgeTableProps) {
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
            <Table.Td>
              {onPick ? (
                <UnstyledButton
                  className={classes.pick}
                  aria-pressed={edge.name === picked}
                  onClick={() => onPick(edge.name)}
                >
                  {edge.name}
                </UnstyledButton>
              ) : (
                edge.name
              )}
            </Table.Td>
            <Table.Td>{words.edgeKinds[edge.kind]}</Table.Td>
            <Table.Td>{words.corners[edge.corner]}</Table.Td>
            <Table.Td ta="right">{format.allowance(edge.allowance_mm)}</Table.Td>
          </Table.Tr>
        ))}
      </Table.Tbody>
    </Table>
  );
}
