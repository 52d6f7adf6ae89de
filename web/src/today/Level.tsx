// The very large number, and the sentence it opens.
import { settings, summary, todayDate } from "../log/book";
import type { Limb } from "../log/kinds";
import { number, onDay, span } from "../moments";
import { t } from "../words";
import { localDay, zoneNow } from "../log/clock";
import { beside } from "./besideLater";
import type { Fit } from "./fits";
import { now } from "./now";
import { plyReading } from "./reading";
import type { Worn } from "./wear";

type Props = { limb: Limb; fit: Fit; counted: readonly Fit[]; worn: Worn };
type Said = { number: string | null; word?: boolean; lead: string; more: string[] };

export function Level(props: Props) {
  const said = props.worn.on ? onNow(props) : notOn(props);
  return (
    <section class="level" aria-live="polite">
      {said.number === null ? <Hollow /> : <p class={said.word ? "number word" : "number"}>{said.number}</p>}
      <div class="say"><p><b>{said.lead}</b></p>{said.more.map((line) => <p key={line}>{line}</p>)}</div>
    </section>
  );
}

function onNow({ limb, fit, counted, worn }: Props): Said {
  const total = worn.on?.total ?? null;
  const others = counted.filter((one) => one !== fit).map((one) => t("today.and_other", { what: beside.value?.inShort(one, limb, worn) ?? "" }));
  if (fit !== "ply") {
    const steps = beside.value?.stepReading(fit, limb, worn);
    return { number: steps?.number ?? "", lead: steps?.lead ?? "", more: others };
  }
  const reading = plyReading(total, worn, summary.value?.limbs[limb], now.value, todayDate(), settings.value.ply_ceiling);
  return { number: total === null ? "?" : number(total), lead: reading.lead, more: [...reading.more, ...age(), ...others] };
}

function notOn({ fit, worn }: Props): Said {
  const ply = fit === "ply" && worn.next?.total !== null && worn.next !== null ? t("common.ply", { n: worn.next.total! }) : null;
  if (worn.offSince !== null)
    return { number: t("today.off_word"), word: true, lead: t("today.off_lead", { span: span(now.value - worn.offSince) }), more: ply ? [t("today.off_before", { set: ply })] : [] };
  if (worn.next || worn.last) return { number: t("today.off_word"), word: true, lead: t("today.morning_lead"), more: ply ? [t("today.off_start", { set: ply })] : [] };
  return { number: null, lead: t("today.first_lead"), more: [t(fit === "ply" ? "today.first_more" : "today.first_more_other")] };
}

/** Where the wool will be: nothing is logged, and nothing is not zero. */
const Hollow = () => <svg class="chart" width="84" height="104" aria-hidden="true"><rect class="hollow" x="1" y="1" width="82" height="102" rx="6" /></svg>;

/** A reading that is not of today says so. */
function age(): string[] {
  const made = summary.value?.now;
  if (!made) return [];
  const { day_starts } = settings.value;
  const day = localDay(made, zoneNow(), day_starts);
  return day === todayDate() ? [] : [t("today.old_reading", { when: onDay(day, day_starts) })];
}
