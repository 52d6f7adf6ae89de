// The server's signs in the language spoken. It says them in English; the code tells which they are.
import type { Limb, ProfileBody } from "../log/kinds";
import type { Sign } from "../log/summary";
import { signTexts, t } from "../words";
import { filled } from "./fill";

type Text = { title: string; do: string[]; source: string };

/** One that this version does not know stays as the server said it. Where there are two legs, the title names which. */
export function ownSign<S extends Sign & { side?: Limb | null }>(sign: S, profile: ProfileBody): S {
  const texts = signTexts(), text = (texts?.rules as Record<string, Text> | undefined)?.[sign.code];
  const title = text?.title ?? sign.title;
  const named = sign.side && (profile.limbs ?? []).length > 1 ? t(`today.sign_${sign.side}`, { title }) : title;
  if (!texts || !text) return { ...sign, title: named };
  const steps = [...texts.levels[sign.level][sign.keep_off ? "off" : "on"], ...text.do];
  return { ...sign, title: named, source: text.source, do: steps.map((step) => filled(step, texts.whom, profile)) };
}
