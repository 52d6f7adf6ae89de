// The most serious standing sign; how many more there are leads to the list.
import { settings } from "../log/book";
import { href } from "../nav";
import { SignCard } from "../parts/SignCard";
import { ownSign } from "../signs/own";
import { t } from "../words";
import { standing } from "./standing";

/** Whether a sign that stands says to keep the leg off. */
export const keepsOff = (): boolean => standing.value.some((sign) => sign.keep_off);

export function SignsNow() {
  const [first, ...rest] = standing.value;
  if (!first) return null;
  const { clinic_phone, emergency_phone } = settings.value;
  return (
    <div class="signs-now">
      <SignCard sign={ownSign(first, settings.value)} clinicPhone={clinic_phone} emergencyPhone={emergency_phone} whyHref={href("signs", first.code)} brief />
      {rest.length > 0 && <a class="more-signs" href={href("signs")}>{t("today.more_signs", { n: rest.length })}</a>}
    </div>
  );
}
