// The signs that stand: what was entered, what to do, whom to call, where the rule comes from, told the clinic or not.
import { current, entries, settings, summary, write } from "../log/book";
import { localDay, zoneNow } from "../log/clock";
import { syncState } from "../log/talk";
import { href, type ScreenProps } from "../nav";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { Said } from "../parts/Said";
import { SignCard } from "../parts/SignCard";
import { WaysOn } from "../parts/WaysOn";
import { clock, nearDay, onDay, plainDay } from "../times";
import { ownEntered } from "../signs/entered";
import type { LimbSign } from "../signs/stand";
import { ownSign } from "../signs/own";
import { standing } from "../today/standing";
import { t } from "../words";
import { telling } from "../words/telling";
import { names } from "./names";

const EVIDENCE_SHOWN = 6;

export function Signs({ at: [code] }: ScreenProps) {
  const all = standing.value.map((sign) => ownSign(sign, settings.value));
  const shown = code ? all.filter((sign) => sign.code === code) : all;
  const back = code ? { href: href("signs"), name: t("signs.title") } : { href: "#/today", name: t("common.today") };
  return (
    <Page title={t("signs.title")} back={back} touch={<WaysOn current="signs" />}>
      {shown.length === 0 && <Nothing asked={code !== undefined} />}
      {shown.map((sign) => <Whole key={`${sign.code} ${sign.side}`} sign={sign} />)}
      {summary.value && <p class="small quiet">{t("signs.made", { when: moment(summary.value.now) })}</p>}
      <p class="small quiet">{t("signs.not_a_diagnosis")}</p>
    </Page>
  );
}

const Nothing = ({ asked }: { asked: boolean }) => (
  <div class="prose">
    <p><b>{t(asked ? "signs.gone" : "signs.none")}</b> {t("signs.none_not")}</p>
    <p class="quiet">{t(syncState.value.paired ? "signs.none_more" : "signs.none_alone")}</p>
  </div>
);

const moment = (at: string) => `${onDay(localDay(at, zoneNow(), settings.value.day_starts), settings.value.day_starts)}, ${clock(at)}`;

function Whole({ sign }: { sign: LimbSign }) {
  const { clinic_phone, emergency_phone, day_starts } = settings.value;
  const evidence = sign.evidence.map((id) => current(id)).filter((entry) => entry !== undefined && !entry.erased).reverse();
  const told = toldAt(sign);
  return (
    <section class="field whole-sign">
      <SignCard sign={sign} clinicPhone={clinic_phone} emergencyPhone={emergency_phone} />
      {(sign.level === "watch" || sign.level === "review") && sign.do.length > 0 && (
        <><h2 class="minor">{t("signs.do")}</h2><ol class="do">{sign.do.map((step) => <li key={step}><span>{step}</span></li>)}</ol></>
      )}
      <h2 class="minor">{t("signs.entered")}, {t("signs.since", { day: plainDay(localDay(sign.since, zoneNow(), day_starts), day_starts) })}</h2>
      <p>{sign.here ? sign.entered : <Said text={sign.entered} own={ownEntered(sign)} />}</p>
      {evidence.length > 0 && (
        <Rows label={t("signs.evidence")}>
          {evidence.slice(0, EVIDENCE_SHOWN).map((entry) => (
            <Row key={entry!.id} href={href("entry", entry!.id)} small={telling(entry!, names()).small}
              lead={<time dateTime={entry!.at}>{nearDay(localDay(entry!.at, entry!.zone, day_starts), day_starts)}</time>}>{telling(entry!).what}</Row>
          ))}
        </Rows>
      )}
      {evidence.length > EVIDENCE_SHOWN && <p class="small quiet">{t("signs.older", { n: evidence.length - EVIDENCE_SHOWN })}</p>}
      <p class="small quiet">{t("signs.source")}: {sign.source}</p>
      <p>{told ? t("signs.told", { day: moment(told) }) : t("signs.not_told")}</p>
      <BigButton out onClick={() => { write("told", sign.side, { code: sign.code }).catch(() => {}); }}>{t(told ? "signs.tell_again" : "signs.tell")}</BigButton>
    </section>
  );
}

/** When the clinic was last told: as the summary knows it, or entered since on this phone. */
function toldAt(sign: LimbSign): string | null {
  const here = entries.value.findLast((e) => e.kind === "told" && e.body.code === sign.code && (!sign.side || !e.limb || e.limb === sign.side) && e.at >= sign.since);
  return here && (!sign.told || here.at > sign.told) ? here.at : sign.told;
}
