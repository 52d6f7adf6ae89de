// Data trouble, in dashed frames: what, why, one thing to do. The entry itself is kept and shown in every case.
import type { ComponentChildren } from "preact";
import { attention, clockOff, retry, saving, trouble } from "../log/book";
import { renewalWaits, takeUpdate, updateReady } from "../update";
import { refusal, t } from "../words";
import { TextButton } from "./buttons";
import { Icon, type IconName } from "./Icon";
import { Said } from "./Said";

type Props = { icon: IconName; what: string; why: ComponentChildren; small?: string; children?: ComponentChildren };

export const Trouble = ({ icon, what, why, small, children }: Props) => (
  <div class="trouble" role="alert">
    <Icon name={icon} />
    <p><b>{what}</b> {why}{small && <small>{small}</small>}</p>
    {children}
  </div>
);

export function Troubles() {
  const { unsaved, why } = saving.value;
  const refused = attention.value;
  const off = clockOff.value;
  const storage = trouble.value;
  return (
    <>
      {storage && (
        <Trouble icon="phone_bad" what={t(`common.storage_${storage}`)} why={t(`common.storage_${storage}_do`)}>
          {storage !== "blocked" && <TextButton onClick={() => location.reload()}>{t("common.reload")}</TextButton>}
        </Trouble>
      )}
      {updateReady.value && (
        <Trouble icon="phone" what={t("common.new_version")} why={renewalWaits.value ? t("common.new_version_later") : ""}>
          {!renewalWaits.value && <TextButton onClick={takeUpdate}>{t("common.reload")}</TextButton>}
        </Trouble>
      )}
      {unsaved.length > 0 && (
        <Trouble icon="phone_bad" what={t("common.not_saved")} why={t(why === "full" ? "common.phone_full" : "common.phone_closed")}
          small={t("common.kept_on_screen", { n: unsaved.length })}>
          <TextButton onClick={() => void retry()}>{t("common.again")}</TextButton>
        </Trouble>
      )}
      {refused.length > 0 && (
        <Trouble icon="phone_bad" what={t("common.refused", { n: refused.length })} why={<Said text={refused[0]!.why} own={refusal(refused[0]!)} />} small={t("common.refused_kept")}>
          <TextButton href="#/attention">{t("common.look")}</TextButton>
        </Trouble>
      )}
      {off !== null && (
        <Trouble icon="old" what={t(off > 0 ? "common.clock_ahead" : "common.clock_behind", { span: spanOf(Math.abs(off)) })} why={t("common.clock_do")} />
      )}
    </>
  );
}

const spanOf = (minutes: number): string =>
  minutes < 120 ? t("common.minutes", { n: minutes }) : minutes < 2880 ? t("common.hours", { n: Math.round(minutes / 60) }) : t("common.days", { n: Math.round(minutes / 1440) });
