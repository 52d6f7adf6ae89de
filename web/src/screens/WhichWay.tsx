// Which way? A short walk through what the fit feels like. It shows what leaflets commonly say each answer can mean, and
// the trap that pain at the end can be either; it defers to the prosthetist, and offers to log what the wearer decides.
import { useState } from "preact/hooks";
import { settings } from "../log/book";
import { go, href } from "../nav";
import { BigButton, telephone, TextButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { CheckRow, Rows } from "../parts/rows";
import { shownNow } from "../today/outside";
import { answers, STEPS, weigh, type Weighed } from "../whichway/weigh";
import { t, type Key } from "../words";

export function WhichWay() {
  const { limb } = shownNow();
  const level = settings.value.limbs.find((one) => one.side === limb)?.level ?? "transtibial";
  const [step, setStep] = useState(0);
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const back = { href: "#/today", name: t("common.today") };
  if (step >= STEPS.length) return <Said weighed={weigh(level, ticked)} again={() => { setStep(0); setTicked([]); }} back={back} />;
  const asked = STEPS[step]!;
  const turn = (id: string, on: boolean) => setTicked(on ? [...ticked, id] : ticked.filter((one) => one !== id));
  return (
    <Page title={t("way.title")} back={back} side={t("way.step", { n: step + 1, of: STEPS.length })}
      touch={
        <>
          <BigButton tall onClick={() => setStep(step + 1)}>{t(step === STEPS.length - 1 ? "way.see" : "common.next")}</BigButton>
          {step > 0 && <BigButton out onClick={() => setStep(step - 1)}>{t("way.before")}</BigButton>}
        </>
      }>
      <h2>{t(`way.ask_${asked}`)}</h2>
      <Rows label={t(`way.ask_${asked}`)}>
        {answers(level).filter((one) => one.step === asked).map(({ id }) => (
          <CheckRow key={id} checked={ticked.includes(id)} onChange={(on) => turn(id, on)}>{t(`way.is_${id}` as Key)}</CheckRow>
        ))}
      </Rows>
      {step === 0 && <p class="small quiet">{t("way.first_skin")} <a href={href("skin", limb)}>{t("today.skin")}</a></p>}
    </Page>
  );
}

type SaidProps = { weighed: Weighed; again: () => void; back: { href: string; name: string } };

function Said({ weighed, again, back }: SaidProps) {
  const { deep, high, verdict, end } = weighed;
  const phone = settings.value.clinic_phone;
  return (
    <Page title={t("way.title")} back={back}
      touch={
        <>
          <BigButton tall small={t("way.log_small")} onClick={() => go("#/today")}>{t("way.log")}</BigButton>
          {phone ? <BigButton out icon="call" href={telephone(phone)}>{t("common.call_clinic")}</BigButton> : <BigButton out href={href("settings")}>{t("common.add_number")}</BigButton>}
        </>
      }>
      <p class="say"><b>{t(`way.verdict_${verdict}`)}</b></p>
      {deep.length > 0 && <Group title={t("way.deep")} what={t("way.deep_leaflets")} ids={deep.map(({ id }) => id)} />}
      {high.length > 0 && <Group title={t("way.high")} what={t("way.high_leaflets")} ids={high.map(({ id }) => id)} />}
      {end && (
        <section class="sign review trap">
          <p><b>{t("way.trap")}</b> {t("way.trap_what")}</p>
        </section>
      )}
      <p>{t("way.one")}</p>
      <p>{t("way.ask_prosthetist")}</p>
      <p class="small quiet">{t("way.source")}</p>
      <TextButton onClick={again}>{t("way.again")}</TextButton>
    </Page>
  );
}

const Group = ({ title, what, ids }: { title: string; what: string; ids: readonly string[] }) => (
  <section class="field">
    <h2>{title}</h2>
    <Rows>{ids.map((id) => <li key={id}><div class="row"><span class="what">{t(`way.is_${id}` as Key)}</span></div></li>)}</Rows>
    <p>{what}</p>
  </section>
);
