// The wearer's profile and how this phone shows things. Each change is saved at once.
import { useId, useState } from "preact/hooks";
import { profile, settings } from "../log/book";
import type { ProfileBody } from "../log/kinds";
import { PLY_MAX } from "../log/kinds";
import { href } from "../nav";
import { Chips, Segment, Stepper } from "../parts/choices";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { Troubles } from "../parts/Troubles";
import { WaysOn } from "../parts/WaysOn";
import { prefs, setPrefs, spoken, type Hand, type Prefs, type Theme } from "../prefs";
import { setProfile } from "../profile";
import { fadeLimit } from "../signs/fill";
import { t } from "../words";

const RISKS = ["diabetes", "circulation", "feeling", "immunity", "dialysis", "blood_thinner"] as const;

export function Settings() {
  const body = settings.value;
  return (
    <Page title={t("settings.title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="settings" />}>
      <Troubles />
      <section class="field">
        <h2>{t("settings.you")}</h2>
        <Typed name="name" hint={t("settings.name_hint")} autocomplete="given-name" />
        <Rows><Row href={href("first")} small={legs(body)}>{t("settings.leg")}</Row></Rows>
      </section>
      <section class="field">
        <h2>{t("settings.numbers")}</h2>
        <Typed name="clinic_phone" tel />
        <Typed name="emergency_phone" tel hint={t("settings.emergency_hint")} />
      </section>
      <section class="field">
        <h2>{t("settings.limits")}</h2>
        <p class="small quiet">{t("settings.limits_hint")}</p>
        <Count name="ply_watch" least={1} most={PLY_MAX} unit={t("settings.ply_unit")} hint={t("settings.watch_hint")} />
        <Count name="ply_review" least={1} most={PLY_MAX} unit={t("settings.ply_unit")} hint={t("settings.review_hint")} />
        <Count name="ply_ceiling" least={1} most={PLY_MAX} unit={t("settings.ply_unit")} hint={t("settings.ceiling_hint")} />
        <Count name="layers_max" least={1} most={10} unit={t("settings.socks_unit")} />
        <Fade />
        <h3>{t("settings.higher_risk")}</h3>
        <p class="small quiet">{t("settings.higher_risk_hint")}</p>
        <Chips label={t("settings.higher_risk")} chosen={body.higher_risk} options={RISKS.map((risk) => ({ value: risk, label: t(`settings.${risk}`) }))}
          onToggle={(risk) => setProfile({ higher_risk: body.higher_risk.includes(risk) ? body.higher_risk.filter((r) => r !== risk) : [...body.higher_risk, risk] })} />
      </section>
      <section class="field">
        <h2>{t("settings.waits")}</h2>
        <Count name="weeks_to_appointment" least={0} most={104} unit={t("settings.weeks", { n: body.weeks_to_appointment })} />
        <Count name="weeks_to_socket" least={0} most={104} unit={t("settings.weeks", { n: body.weeks_to_socket })} />
      </section>
      <section class="field">
        <h2>{t("settings.shows")}</h2>
        <h3>{t("settings.hand")}</h3>
        <Segment label={t("settings.hand")} value={prefs.value.hand} onPick={(hand: Hand) => setPrefs({ hand })}
          options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }]} />
        <h3>{t("settings.theme")}</h3>
        <Segment label={t("settings.theme")} value={prefs.value.theme} onPick={(theme: Theme) => setPrefs({ theme })}
          options={(["auto", "light", "dark", "contrast"] as const).map((one) => ({ value: one, label: t(`settings.${one}`) }))} />
        <h3>{t("settings.language")}</h3>
        <Segment label={t("settings.language")} value={prefs.value.language} onPick={(language: Prefs["language"]) => setPrefs({ language })}
          options={[{ value: "auto", label: t("settings.auto") }, { value: "en", label: "English" }, { value: "es", label: "Español" }]} />
        {spoken.value === null && <p role="alert">{t("settings.language_none")}</p>}
        <h3>{t("settings.units")}</h3>
        <Segment label={t("settings.units")} value={body.units} onPick={(units) => setProfile({ units })}
          options={[{ value: "metric", label: t("settings.metric") }, { value: "us", label: t("settings.us") }]} />
        <Count name="day_starts" least={0} most={12} unit={t("settings.oclock")} hint={t("settings.day_starts_hint")} />
      </section>
      <p class="small quiet">{t("settings.saved_at_once")}</p>
    </Page>
  );
}

const legs = ({ limbs }: ProfileBody): string =>
  limbs?.length ? limbs.map((limb) => `${t(`common.${limb.side}`)}, ${t(`settings.${limb.level}`)}`).join("; ") : t("settings.leg_none");

type NumberName = "ply_watch" | "ply_review" | "ply_ceiling" | "layers_max" | "weeks_to_appointment" | "weeks_to_socket" | "day_starts";
type CountProps = { name: NumberName; least: number; most: number; unit: string; hint?: string };

function Count({ name, least, most, unit, hint }: CountProps) {
  const what = t(`settings.${name}`);
  return (
    <div class="count">
      <div><h3>{what}</h3>{hint && <p class="small quiet">{hint}</p>}</div>
      <Stepper label={what} value={settings.value[name]} least={least} most={most} unit={unit} onChange={(n) => setProfile({ [name]: n })}
        words={{ less: t("settings.less_of", { what }), more: t("settings.more_of", { what }) }} />
    </div>
  );
}

/** How long a mark may stay: the leaflets' figure until the clinic has given its own. */
function Fade() {
  const own = settings.value.fade_limit_min;
  const what = t("settings.fade_limit_min");
  return (
    <div class="field">
      <h3>{what}</h3>
      {own == null ? <p class="small quiet">{t("settings.fade_default")}</p> : (
        <Stepper label={what} value={own} least={1} most={120} unit={t("settings.minutes_unit")} onChange={(n) => setProfile({ fade_limit_min: n })}
          words={{ less: t("settings.less_of", { what }), more: t("settings.more_of", { what }) }} />
      )}
      <BigButton key={own == null ? "set" : "unset"} out onClick={() => setProfile({ fade_limit_min: own == null ? fadeLimit(settings.value) : null })}>{t(own == null ? "settings.fade_set" : "settings.fade_unset")}</BigButton>
    </div>
  );
}

type TypedProps = { name: "name" | "clinic_phone" | "emergency_phone"; hint?: string; tel?: boolean; autocomplete?: string };

/** Saved when the field is left, so that half a number is never one; what is typed stays, whatever else is saved meanwhile. */
function Typed({ name, hint, tel, autocomplete = "off" }: TypedProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const save = (value: string) => {
    if (value !== (profile.value?.body[name] ?? "")) setProfile({ [name]: value });
    setTyped(null);
  };
  return (
    <div class="label">
      <label for={id}><b>{t(`settings.${name}`)}</b></label>
      <input id={id} class="input" {...(tel ? { type: "tel" } : { type: "text" })} autocomplete={autocomplete} maxLength={tel ? 60 : 120}
        value={typed ?? settings.value[name]} onInput={(e) => setTyped(e.currentTarget.value)} onChange={(e) => save(e.currentTarget.value.trim())} {...(hint ? { "aria-describedby": `${id}-hint` } : {})} />
      {hint && <span id={`${id}-hint`} class="small quiet">{hint}</span>}
    </div>
  );
}
