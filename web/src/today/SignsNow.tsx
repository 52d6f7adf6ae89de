// The most serious standing sign; how many more there are leads to the list.
import { settings } from "../log/book";
import { href } from "../nav";
import { TextButton } from "../parts/buttons";
import { SignCard } from "../parts/SignCard";
import { ownSign } from "../signs/own";
import { t } from "../words";
import { standing } from "./standing";

/** Whether a sign that stands says to keep the leg off. */
export const keepsOff = (): boolean => standing.value.some((sign) => sign.keep_off);

export function SignsNow() {
  const [first, ...rest] = standing.value;
  if (!first) return null;
  const [short, whole] = [t("today.more_short", { n: rest.length }), t("today.more_signs", { n: rest.length })];
  const more = rest.length > 0 && <TextButton href={href("signs")} label={`${short}: ${whole}`}>{short}</TextButton>;
  const inside = first.level === "emergency" || first.level === "same_day"; // a line of text has no room for it
  const { clinic_phone, emergency_phone } = settings.value;
  return (
    <div class="signs-now">
      <SignCard sign={ownSign(first, settings.value)} clinicPhone={clinic_phone} emergencyPhone={emergency_phone} whyHref={href("signs", first.code)} brief more={inside && more} />
      {!inside && more}
    </div>
  );
}
