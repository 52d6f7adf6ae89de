// What was done on the leg, in the words that the functional levels use; how long, if the wearer likes.
import { useState } from "preact/hooks";
import type { ActivityBody } from "../log/kinds";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { Stepper } from "../parts/choices";
import { PickRow, Rows } from "../parts/rows";
import { t } from "../words";
import { BACK } from "./back";
import { log } from "./form";

type What = ActivityBody["what"];
const ALL: readonly What[] = ["level", "stairs", "curbs", "uneven", "slopes", "varied_pace", "carry", "work", "sport", "run"];
const STEP = 10;

export function Activity() {
  const [what, setWhat] = useState<What | null>(null);
  const [minutes, setMinutes] = useState(0);
  const save = () => { if (what) log("activity", null, { what, minutes: minutes || null }); };
  return (
    <Page title={t("quick.activity")} back={BACK()} touch={<BigButton tall disabled={!what} onClick={save}>{t("common.save")}</BigButton>}>
      <p>{t("quick.activity_what")}</p>
      <Rows label={t("quick.activity")}>
        {ALL.map((one) => <PickRow key={one} name="activity" checked={what === one} onPick={() => setWhat(one)}>{t(`entry.${one}`)}</PickRow>)}
      </Rows>
      {what && (
        <section class="field">
          <h2>{t("quick.minutes")}</h2>
          <Stepper label={t("quick.minutes")} value={minutes} least={0} most={1440} onChange={(n) => setMinutes(Math.max(0, minutes + (n > minutes ? STEP : -STEP)))}
            unit={minutes ? t("quick.minutes_unit") : t("quick.minutes_none")} words={{ less: t("common.less"), more: t("common.more") }} />
        </section>
      )}
    </Page>
  );
}
