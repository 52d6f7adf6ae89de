// A note: free words, with the day.
import { useState } from "preact/hooks";
import { TEXT_MAX } from "../log/kinds";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { t } from "../words";
import { BACK } from "./back";
import { log } from "./form";

export function Words() {
  const [text, setText] = useState("");
  const said = text.trim();
  return (
    <Page title={t("quick.note")} back={BACK()}
      touch={<BigButton tall disabled={!said} onClick={() => log("note", null, { text: said })}>{t("common.save")}</BigButton>}>
      <label class="label">
        <span>{t("quick.note_ask")}</span>
        <textarea class="input" rows={6} maxLength={TEXT_MAX} value={text} onInput={(e) => setText(e.currentTarget.value)} />
        <span class="small quiet">{t("quick.note_left", { n: TEXT_MAX - text.length })}</span>
      </label>
      <p class="small quiet">{t("quick.note_who")}</p>
    </Page>
  );
}
