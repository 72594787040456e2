import { Menu } from "@mantine/core";
import { type Ref, useImperativeHandle } from "react";
import { Link } from "wouter";

/** What stands in a menu: somewhere to go, something to do, or a heading with or without a rule. */
export type MenuLine =
  | { name: string; href: string }
  | { name: string; lang?: string; onClick: () => void }
  | { heading: string; rule?: boolean };

interface LinesProps {
  id: string; // the button's, from which the menu's own follows
  under: HTMLButtonElement;
  lines: readonly MenuLine[];
  opened: boolean;
  onChange: (opened: boolean) => void;
}

export default function DropMenuLines({ id, under, lines, opened, onChange }: LinesProps) {
  return (
    <Menu position="bottom-end" id={id} opened={opened} onChange={onChange}>
      <Menu.Target>
        <Target element={under} />
      </Menu.Target>
      <Menu.Dropdown>
        {lines.map((line, index) => (
          <Line key={index} line={line} />
        ))}
      </Menu.Dropdown>
    </Menu>
  );
}

/** Hands the library a button that was there before the menu. */
function Target({ ref, element }: { ref?: Ref<HTMLButtonElement>; element: HTMLButtonElement }) {
  useImperativeHandle(ref, () => element, [element]);
  return null;
}

function Line({ line }: { line: MenuLine }) {
  if ("href" in line)
    return (
      <Menu.Item component={Link} href={line.href}>
        {line.name}
      </Menu.Item>
    );
  if ("onClick" in line)
    return (
      <Menu.Item lang={line.lang} onClick={line.onClick}>
        {line.name}
      </Menu.Item>
    );
  return (
    <>
      {line.rule && <Menu.Divider />}
      <Menu.Label>{line.heading}</Menu.Label>
    </>
  );
}
