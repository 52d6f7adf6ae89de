// Comfort of the socket, 0 to 10: one question in our own words (after Hanspal et al. 2003, Disabil Rehabil 25(22):1278).
import { useState } from "preact/hooks";
import { Page } from "../parts/Page";
import { Score } from "../parts/choices";
import { BigButton } from "../parts/buttons";
import { t } from "../words";
import { BACK } from "./back";
import { log, shownLimb } from "./form";
import { Side } from "./Side";

export function Comfort() {
  const [score, setScore] = useState<number | null>(null);
  return (
    <Page title={t("quick.comfort")} back={BACK()}
      touch={
        <>
          <Score label={t("quick.comfort_ask")} hint={t("quick.comfort_hint")} value={score} onPick={setScore} />
          <BigButton tall disabled={score === null} onClick={() => { if (score !== null) log("comfort", shownLimb(), { score }); }}>{t("common.save")}</BigButton>
        </>
      }>
      <Side />
      <p>{t("quick.comfort_what")}</p>
      <p class="small quiet">{t("quick.comfort_source")}</p>
    </Page>
  );
}
