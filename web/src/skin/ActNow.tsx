// What to do at once: the signs that this check meets, judged on the phone, and whom to call.
import { useEffect, useRef } from "preact/hooks";
import { entries, settings, write } from "../log/book";
import type { Limb, SkinBody } from "../log/kinds";
import { BigButton, telephone } from "../parts/buttons";
import { SignCard } from "../parts/SignCard";
import { entered, ruleOf, steps, titleOf, type Met } from "../signs/rules";
import { clock } from "../times";
import { t } from "../words";

/** The signs above `watch`, most urgent first, each with its steps and its reason. */
export function ActNow({ met, body }: { met: readonly Met[]; body: SkinBody }) {
  const profile = settings.value;
  const panel = useRef<HTMLDivElement>(null);
  const codes = met.map((sign) => sign.code).join(" ");
  useEffect(() => panel.current?.scrollIntoView({ block: "start" }), [codes]); // ticked far down the list, it must not be missed
  return (
    <div class="act-now" role="alert" ref={panel}>
      {met.map((sign) => (
        <div key={sign.code}>
          <SignCard sign={{ level: sign.level, title: titleOf(sign), do: steps(sign, profile), keep_off: sign.keep_off }}
            clinicPhone={profile.clinic_phone} emergencyPhone={profile.emergency_phone} />
          {sign.level === "review" && <ol class="do">{steps(sign, profile).map((step) => <li key={step}><span>{step}</span></li>)}</ol>}
          <p class="small quiet">{entered("skin", body)} {ruleOf(sign, profile)}</p>
        </div>
      ))}
      <p class="small"><b>{t("skin.recorded")}</b></p>
    </div>
  );
}

/** The calls, in place of All clear. `codes` are the signs that "I have called" speaks of. */
export function Calls({ met, side }: { met: readonly Met[]; side: Limb }) {
  const { clinic_phone, emergency_phone } = settings.value;
  const codes = met.map((sign) => sign.code);
  const told = entries.value.findLast((e) => e.kind === "told" && e.limb === side && codes.includes(e.body.code) && Date.now() - Date.parse(e.at) < 12 * 3600e3);
  const tell = () => { for (const code of codes) void write("told", side, { code, note: "" }).catch(() => {}); };
  const clinic = clinic_phone
    ? { href: telephone(clinic_phone), name: t("common.call_clinic"), small: t("skin.clinic_small", { number: clinic_phone }) }
    : { href: "#/settings", name: t("common.add_number"), small: undefined };
  const { level } = met[0]!;
  const urgent = level === "emergency";
  return (
    <>
      {level === "review" ? <BigButton tall icon="check" href="#/today">{t("common.done")}</BigButton>
        : urgent && emergency_phone
        ? <BigButton tall icon="call" href={telephone(emergency_phone)} small={t("skin.emergency_small")}>{t("skin.call_emergency", { number: emergency_phone })}</BigButton>
        : <BigButton tall icon="call" href={clinic.href} {...(clinic.small ? { small: clinic.small } : {})}>{clinic.name}</BigButton>}
      <div class="two">
        {(level === "review" || (urgent && emergency_phone)) && <BigButton out href={clinic.href}>{clinic.name}</BigButton>}
        {level === "same_day" && emergency_phone && <BigButton out href={telephone(emergency_phone)}>{t("skin.call_emergency_short", { number: emergency_phone })}</BigButton>}
        <BigButton out onClick={tell}>{t("skin.have_called")}</BigButton>
      </div>
      {told && <p class="small" role="status">{t("skin.told", { time: clock(told.at, told.zone) })}</p>}
    </>
  );
}
