import { Modal } from "@mantine/core";
import type { ReactNode } from "react";
import { useReader } from "@/words/preferences";
import classes from "./parts.module.css";

interface DialogProps {
  opened?: boolean;
  title: string;
  size?: "md" | "lg" | "xl";
  onClose: () => void;
  children: ReactNode;
}

/** A question over the page. Made of parts, for the library's own head is a `header` and so a second
 * banner to a screen reader; never wider or higher than the window. */
export function Dialog({ opened = true, title, size = "md", onClose, children }: DialogProps) {
  const { words } = useReader();
  return (
    <Modal.Root opened={opened} onClose={onClose} size={size}>
      <Modal.Overlay />
      <Modal.Content className={classes.dialog ?? ""}>
        <div className={classes.dialogHead}>
          <Modal.Title>{title}</Modal.Title>
          <Modal.CloseButton aria-label={words.close} />
        </div>
        <Modal.Body>{children}</Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}
