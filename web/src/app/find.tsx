import { Button } from "@mantine/core";
import { useEffect, useEffectEvent, useRef, useState } from "react";
import { Icon } from "@/ui/icon";
import { later } from "@/ui/later";
import { useReader } from "@/words/preferences";
import classes from "./app.module.css";

const useDialog = later(() => import("./find_dialog"));

/** Goes anywhere from the keyboard: pages, jobs, films, rolls, customers, plates, VINs, lots. */
export function Find() {
  const { words } = useReader();
  const [opened, setOpened] = useState(false);
  const [begun, setBegun] = useState("");
  const early = useRef<string>(undefined); // what is typed while the dialog is on its way
  const { Part: Dialog, whenHere } = useDialog();

  const open = () => {
    early.current = "";
    const settle = () => {
      setBegun(early.current ?? "");
      early.current = undefined;
    };
    whenHere(() => {
      settle();
      setOpened(true);
    }, settle);
  };
  const onKey = useEffectEvent((event: KeyboardEvent) => {
    const held = event.ctrlKey || event.metaKey;
    if (held && event.key.toLowerCase() === "k") {
      if (opened) setOpened(false);
      else if (early.current === undefined) open();
    } else if (early.current !== undefined && !held && event.key.length === 1) {
      early.current += event.key;
    } else if (early.current !== undefined && event.key === "Backspace") {
      early.current = early.current.slice(0, -1);
    } else return;
    event.preventDefault();
  });
  useEffect(() => {
    const key = (event: KeyboardEvent) => onKey(event);
    window.addEventListener("keydown", key);
    return () => window.removeEventListener("keydown", key);
  }, []);
  return (
    <>
      <Button
        variant="default"
        size="xs"
        h={34}
        px={11}
        styles={{ section: { marginInlineEnd: 0 } }}
        leftSection={<Icon name="search" size={15} />}
        onClick={open}
        aria-keyshortcuts="Control+K"
        title={words.find.hint}
        aria-label={words.find.open}
      >
        <span className={classes.findWord}>{words.find.open}</span>
      </Button>
      {Dialog && <Dialog opened={opened} begun={begun} onClose={() => setOpened(false)} />}
    </>
  );
}
