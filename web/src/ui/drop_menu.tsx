import { ActionIcon } from "@mantine/core";
import { type ReactNode, useId, useState } from "react";
import type { MenuLine } from "./drop_menu_lines";
import { later } from "./later";

const useLines = later(() => import("./drop_menu_lines"));

interface DropMenuProps {
  label: string;
  lines: readonly MenuLine[];
  children: ReactNode;
}

/** A button with a menu under it. The button stays the same one when the menu's own part comes. */
export function DropMenu({ label, lines, children }: DropMenuProps) {
  const id = useId();
  const [opened, setOpened] = useState(false);
  const [button, setButton] = useState<HTMLButtonElement | null>(null);
  const { Part: Lines, whenHere } = useLines();
  return (
    <>
      <ActionIcon
        ref={setButton}
        id={id}
        variant="subtle"
        size={36}
        aria-label={label}
        aria-haspopup="menu"
        aria-expanded={opened}
        aria-controls={opened ? `${id}-dropdown` : undefined}
        data-expanded={opened || undefined}
        onClick={() => whenHere(() => setOpened((before) => !before))}
      >
        {children}
      </ActionIcon>
      {Lines && button && (
        <Lines id={id} under={button} lines={lines} opened={opened} onChange={setOpened} />
      )}
    </>
  );
}
