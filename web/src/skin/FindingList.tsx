// What to look and feel for, one row each: the commonest first, the rest behind one more row.
import { useState } from "preact/hooks";
import { Icon } from "../parts/Icon";
import { CheckRow, Row, Rows } from "../parts/rows";
import { t } from "../words";
import { FIRST, REST, type What } from "./check";

type Props = { chosen: ReadonlySet<What>; onTick: (what: What, on: boolean) => void; onMore: () => void };

/** Rows that are ticked stand elsewhere, with their details, and are left out here. */
export function FindingList({ chosen, onTick, onMore }: Props) {
  const [all, setAll] = useState(false);
  const shown = [...FIRST, ...(all ? REST : [])].filter((what) => !chosen.has(what));
  return (
    <Rows>
      {shown.map((what) => (
        <CheckRow key={what} checked={false} onChange={(on) => onTick(what, on)}>
          <b>{t(`skin.${what}`)}</b>
          <span class="senses">
            <span><Icon name="eye" /><span class="unseen">{t("skin.see")}: </span>{t(`skin.${what}_see`)}</span>
            <span><Icon name="hand" /><span class="unseen">{t("skin.feel")}: </span>{t(`skin.${what}_feel`)}</span>
          </span>
        </CheckRow>
      ))}
      {!all && <Row onClick={() => { setAll(true); onMore(); }} small={t("skin.something_small")} side={<Icon name="plus" />}><b>{t("skin.something_else")}</b></Row>}
    </Rows>
  );
}
