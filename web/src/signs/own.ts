// The server's signs in the language spoken. It says them in English; the code tells which they are.
import type { Sign } from "../log/summary";
import { signTexts } from "../words";
import { filled, type Risks } from "./fill";

type Text = { title: string; do: string[]; source: string };

/** One that this version does not know stays as the server said it. */
export function ownSign(sign: Sign, profile: Risks): Sign {
  const texts = signTexts(), text = (texts?.rules as Record<string, Text> | undefined)?.[sign.code];
  if (!texts || !text) return sign;
  const steps = [...texts.levels[sign.level][sign.keep_off ? "off" : "on"], ...text.do];
  return { ...sign, title: text.title, source: text.source, do: steps.map((step) => filled(step, texts.whom, profile)) };
}
