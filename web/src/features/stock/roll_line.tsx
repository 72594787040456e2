import { Menu, ActionIcon } from "@mantine/core";
import { useState } from "react";
import type { Film, Roll } from "@/api/client";
import { Icon } from "@/ui/icon";
import { useReader } from "@/words/preferences";
import { ChangeSheet } from "./change_sheet";
import { CheckSheet } from "./check_sheet";
import { DefectsSheet } from "./defects_sheet";
import { LedgerSheet } from "./ledger_sheet";
import classes from "./stock.module.css";

interface RollLineProps {
  roll: Roll;
  film: Film | undefined;
  /** Length of the longest roll: all are drawn to its scale. */
  longest: number;
}

type Sheet = "counted" | "written_off" | "returned" | "check" | "defects" | "ledger";

export function RollLine({ roll, film, longest }: RollLineProps) {
  const { words, format } = useReader();
  const [sheet, setSheet] = useState<Sheet>();
  const close = () => setSheet(undefined);
  const share = (mm: number) => `${(100 * mm) / longest}%`;
  const choices: readonly [Sheet, string][] = [
    ["counted", words.stockPage.count],
    ["written_off", words.stockPage.writeOff],
    ["returned", words.stockPage.giveBack],
    ["check", words.stockPage.check],
    ["defects", words.stockPage.defectsOf],
    ["ledger", words.stockPage.ledger],
  ];
  return (
    <li className={classes.roll}>
      <div>
        <strong>{film?.name ?? roll.film}</strong>
        <span>
          {[
            roll.id,
            `${words.benchPage.lot} ${roll.lot}`,
            format.length(roll.width_mm, 0),
            roll.place,
            roll.defects?.length ? words.stockPage.defects(roll.defects.length) : "",
          ]
            .filter(Boolean)
            .join(" · ")}
        </span>
      </div>
      <p className={classes.amount}>
        <b>{format.rollLength(roll.remaining_mm)}</b> {words.stockPage.of}{" "}
        {format.rollLength(roll.length_mm)}
      </p>
      <Menu position="bottom-end">
        <Menu.Target>
          <ActionIcon
            variant="subtle"
            size={34}
            aria-label={`${roll.id}: ${words.stockPage.count}…`}
          >
            <Icon name="more" />
          </ActionIcon>
        </Menu.Target>
        <Menu.Dropdown>
          {choices.map(([which, label]) => (
            <Menu.Item key={which} onClick={() => setSheet(which)}>
              {label}
            </Menu.Item>
          ))}
        </Menu.Dropdown>
      </Menu>
      <div className={classes.bar} style={{ width: share(roll.length_mm) }} aria-hidden="true">
        <i
          style={{
            width: `${(100 * roll.remaining_mm) / Math.max(1, roll.length_mm)}%`,
            background: film?.colour,
            height: `${Math.max(6, roll.width_mm / 110)}px`,
          }}
        />
      </div>
      {(sheet === "counted" || sheet === "written_off" || sheet === "returned") && (
        <ChangeSheet roll={roll} verb={sheet} onClose={close} />
      )}
      {sheet === "check" && <CheckSheet roll={roll} onClose={close} />}
      {sheet === "defects" && <DefectsSheet roll={roll} onClose={close} />}
      {sheet === "ledger" && <LedgerSheet roll={roll.id} onClose={close} />}
    </li>
  );
}
