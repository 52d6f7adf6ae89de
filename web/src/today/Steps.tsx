// For sockets fitted by a dial, strap, pump or pads: their steps since the leg went on, counted as ply is.
import { entries } from "../log/book";
import type { Limb } from "../log/kinds";
import { number } from "../times";
import { t } from "../words";
import { stepsOf, type Fit } from "./fits";
import { stepWords } from "./saying";
import { tapStep } from "./says";
import type { Means } from "./taps";
import { Step } from "./TouchZone";
import type { Worn } from "./wear";

export const StepButtons = ({ limb, what }: { limb: Limb; what: Means }) => (
  <div class="steps">
    <Step way="less" tap="down" onTap={() => tapStep(limb, what, -1)} name={stepWords(what, "less", 1)} />
    <Step way="more" tap="up" solid onTap={() => tapStep(limb, what, 1)} name={stepWords(what, "more", 1)} />
  </div>
);

/** The large number and the sentence it opens. */
export function stepReading(what: Means, limb: Limb, worn: Worn): { number: string; lead: string } {
  const steps = stepsOf(what, entries.value, limb, worn);
  const lead = steps === 0 ? t(`today.${what}_lead_zero`) : t(steps > 0 ? `today.${what}_lead` : `today.${what}_lead_less`, { n: Math.abs(steps) });
  return { number: number(Math.abs(steps)), lead };
}

/** "8 ply on", "2 dial steps tighter than at the start", for what is counted but not shown large. */
export function inShort(fit: Fit, limb: Limb, worn: Worn): string {
  if (fit === "ply") return t("today.say_ply_on", { n: worn.on?.total ?? "?" });
  const said = stepReading(fit, limb, worn);
  return `${said.number} ${said.lead}`.replace(/\.$/, "");
}
