import { ActionIcon, Menu } from "@mantine/core";
import { type RefObject, useState } from "react";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import { download, type PictureForm, pictureOf } from "./export_picture";

interface TakePictureProps {
  /** What holds the drawing. */
  of: RefObject<HTMLElement | null>;
  name: string;
  size?: number;
  /** False where the view is pixels only, as 3D is. */
  lines?: boolean;
}

/** Any view as a file for papers: SVG where it is drawn in lines, PNG, or PDF by printing. */
export function TakePicture({ of, name, size = 34, lines = true }: TakePictureProps) {
  const { words } = useReader();
  const [failed, setFailed] = useState(false);
  const take = (form: PictureForm) => {
    setFailed(false);
    if (of.current)
      pictureOf(of.current, form).then(
        (blob) => download(blob, `${name}.${blob.type === "image/svg+xml" ? "svg" : "png"}`),
        () => setFailed(true),
      );
  };
  return (
    <Menu position="top-end">
      <Menu.Target>
        <ActionIcon
          variant="default"
          size={size}
          aria-label={words.picture.take}
          title={failed ? words.picture.failed : words.picture.take}
          data-failed={failed}
        >
          <Icon name="down" />
        </ActionIcon>
      </Menu.Target>
      <Menu.Dropdown>
        {lines && <Menu.Item onClick={() => take("svg")}>SVG</Menu.Item>}
        <Menu.Item onClick={() => take("png")}>PNG</Menu.Item>
        <Menu.Item onClick={() => of.current && printOnly(of.current)}>
          {words.picture.pdf}
        </Menu.Item>
      </Menu.Dropdown>
    </Menu>
  );
}

/** Prints this view alone, which every browser can do into a PDF. */
function printOnly(view: HTMLElement) {
  view.setAttribute("data-print", "");
  document.documentElement.setAttribute("data-print-view", "");
  const done = () => {
    view.removeAttribute("data-print");
    document.documentElement.removeAttribute("data-print-view");
    window.removeEventListener("afterprint", done);
  };
  window.addEventListener("afterprint", done);
  window.print();
}
