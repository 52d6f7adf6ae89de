// Texts of signs with their blanks filled: whom to call, and how long a mark may stay.
import limits from "../../../server/plytide/data/limits.json";
import type { ProfileBody } from "../log/kinds";

export type Risks = Partial<Pick<ProfileBody, "fade_limit_min" | "higher_risk" | "clinic_phone" | "emergency_phone">>;

/** Minutes a mark may take to fade: the profile's own number, or the default for the wearer's risks. */
export function fadeLimit(profile: Risks): number {
  const limit = limits.fade_limit_min;
  const higher = (profile.higher_risk ?? []).some((risk) => limit.risks.includes(risk));
  return profile.fade_limit_min ?? (higher ? limit.higher : limit.default);
}

/** `whom`: how clinic and emergency number are called, with and without a number. */
export function filled(text: string, whom: Record<string, string>, profile: Risks): string {
  const called = (name: "clinic" | "emergency") => {
    const number = profile[`${name}_phone`];
    return number ? whom[`${name}_number`]!.replace("{number}", number) : whom[name]!;
  };
  return text.replaceAll("{clinic}", called("clinic")).replaceAll("{emergency}", called("emergency")).replaceAll("{limit}", String(fadeLimit(profile)));
}
