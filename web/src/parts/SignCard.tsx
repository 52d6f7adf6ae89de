// A sign as its level asks for: watch is a line, review a thin frame, same day a heading with steps, emergency one button.
import type { ComponentChildren } from "preact";
import { t } from "../words";
import { BigButton, TextButton, telephone } from "./buttons";
import { Glyph, type Level } from "./Glyph";

export type SignLike = { level: Level; title: string; do: readonly string[]; keep_off: boolean };

type Props = {
  sign: SignLike;
  clinicPhone?: string | undefined;
  emergencyPhone?: string | undefined;
  /** Where Why leads; none where the reasons are on the screen already. */
  whyHref?: string | undefined;
  /** Without the numbered steps: the steps stand elsewhere on the screen. */
  brief?: boolean;
  /** After Why and Call: where more signs are. */
  more?: ComponentChildren;
};

export function SignCard({ sign, clinicPhone, emergencyPhone, whyHref, brief, more }: Props) {
  const { level, title } = sign;
  const why = whyHref && <TextButton href={whyHref} label={t("common.why_of", { title })}>{t("common.why")}</TextButton>;
  const steps = !brief && sign.do.length > 0 && <ol class="do">{sign.do.map((step) => <li key={step}><span>{step}</span></li>)}</ol>;
  if (level === "emergency") {
    return (
      <section class="sign emergency" aria-label={`${t("common.emergency")}: ${title}`}>
        <div class="bar"><Glyph level={level} />{t("common.emergency")}</div>
        <div class="body">
          <p><b>{title}</b></p>
          {steps || <p>{sign.do[0]}</p>}
          {emergencyPhone
            ? <BigButton icon="call" tall href={telephone(emergencyPhone)} small={emergencyPhone}>{t("common.call_now")}</BigButton>
            : <p><b>{t("common.call_local")}</b></p>}
          {(why || more) && <div class="acts">{why}{more}</div>}
        </div>
      </section>
    );
  }
  if (level === "same_day") {
    return (
      <section class="sign same_day" aria-label={t("common.same_day", { title })}>
        <div class="bar"><Glyph level={level} />{t("common.same_day", { title })}</div>
        <div class="body">
          {steps || <p>{sign.keep_off && <b>{t("common.keep_off")} </b>}{sign.do[sign.keep_off ? 1 : 0]}</p>}
          <div class="acts"><Call to={clinicPhone} name={t("common.call_clinic")} icon />{why}{more}</div>
        </div>
      </section>
    );
  }
  return (
    <section class={`sign ${level}`} aria-label={`${t(`common.${level}`)} ${title}`}>
      <Glyph level={level} />
      <p><span class="word">{t(`common.${level}`)}</span> {title}</p>
      <div class="acts">{why}{level === "review" && <Call to={clinicPhone} name={t("common.call")} />}</div>
    </section>
  );
}

const Call = ({ to, name, icon }: { to: string | undefined; name: string; icon?: boolean }) =>
  to ? <TextButton href={telephone(to)} {...(icon ? { icon: "call" as const } : {})}>{name}</TextButton>
    : icon ? <TextButton href="#/settings">{t("common.add_number")}</TextButton> : null;
