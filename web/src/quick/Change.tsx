// A change to socket or parts. It begins a new fit period: what is usual is learnt anew from here.
import { useState } from "preact/hooks";
import type { ChangeBody } from "../log/kinds";
import { TEXT_MAX } from "../log/kinds";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { PickRow, Rows } from "../parts/rows";
import { t } from "../words";
import { BACK } from "./back";
import { log, shownLimb } from "./form";
import { Side } from "./Side";

type What = ChangeBody["what"];
const ALL: readonly What[] = ["socket_adjusted", "relief_added", "padding", "liner", "suspension", "foot", "test_socket", "new_socket", "other"];

export function Change() {
  const [what, setWhat] = useState<What | null>(null);
  const [note, setNote] = useState("");
  const save = () => { if (what) log("change", shownLimb(), { what, height: null, angle: null, note }); };
  return (
    <Page title={t("quick.change")} back={BACK()} touch={<BigButton tall disabled={!what} onClick={save}>{t("common.save")}</BigButton>}>
      <Side />
      <p>{t("quick.change_what")}</p>
      <Rows label={t("quick.change")}>
        {ALL.map((one) => <PickRow key={one} name="change" checked={what === one} onPick={() => setWhat(one)}>{t(`quick.change_${one}`)}</PickRow>)}
      </Rows>
      {what && (
        <label class="label">
          <span>{t("quick.note_optional")}</span>
          <textarea class="input" maxLength={TEXT_MAX} value={note} onInput={(e) => setNote(e.currentTarget.value)} />
        </label>
      )}
    </Page>
  );
}
