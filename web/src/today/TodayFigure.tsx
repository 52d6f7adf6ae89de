// Today drawn: the day's wool running into what is on now. For sockets without socks, today's steps as a list of times.
import { entries, settings, summary } from "../log/book";
import type { Limb } from "../log/kinds";
import { DayFigure } from "../parts/DayFigure";
import { StepsFigure } from "../parts/StepsFigure";
import { clock, number } from "../times";
import { t } from "../words";
import type { Fit } from "./fits";
import { now, owned } from "./now";
import { along, band, bandOf, hoursOn } from "./reading";
import { plies } from "./stack";
import { standing } from "./standing";
import { stepLines, wool } from "./strands";
import type { Means } from "./taps";
import type { Worn } from "./wear";

export function TodayFigure({ limb, fit, worn }: { limb: Limb; fit: Fit; worn: Worn }) {
  if (fit !== "ply") return <StepsToday what={fit} limb={limb} worn={worn} />;
  const socks = owned.value;
  const shown = worn.on ?? worn.next;
  const total = shown?.total ?? 0;
  const known = shown?.socks ? plies(shown.socks, socks) : null;
  const named = !!known && known.reduce((a, b) => a + b, 0) === total;
  const stack = named ? known.filter((ply) => ply > 0) : total > 0 ? [total] : [];
  const water = band(summary.value?.limbs[limb]);
  const ahead = worn.today.length === 0;
  if (ahead && !water) return null;
  const hours = ahead ? Math.min(LONGEST, water!.hours.at(-1)!) : lastHour(worn);
  return (
    <>
      <DayFigure wool={wool(worn.today, now.value, !!worn.on, socks)} hours={hours} band={water} ceiling={settings.value.ply_ceiling}
        stack={stack} state={ahead ? "ahead" : worn.on ? "on" : "off"} named={named} low={standing.value.length > 0} label={inWords(worn, water, hours)} />
      {worn.on && total > 0 && (
        named
          ? <p class="composition"><b>{t("today.stack_now")}</b> {[...known].reverse().map((ply) => t("common.ply", { n: ply })).join(", ")}.</p>
          : <p class="composition said">{t("today.unnamed")}</p>
      )}
    </>
  );
}

function StepsToday({ what, limb, worn }: { what: Means; limb: Limb; worn: Worn }) {
  const fitting = summary.value?.limbs[limb]?.fittings.find((one) => one.what === what);
  const lines = stepLines(worn.today, entries.value.filter((e) => e.kind === "adjust" && e.limb === limb && e.body.what === what), now.value, !!worn.on);
  const last = lines.at(-1)?.at(-1);
  if (!last) return null;
  return <StepsFigure lines={lines} hours={lastHour(worn)} band={bandOf(fitting?.usual)} label={t("today.figure_steps", { start: clock(worn.today[0]!.begun), n: number(last[1]) })} />;
}

/** Before the leg goes on, the usual day ahead is drawn, up to so many hours. */
const LONGEST = 14;

/** The figure ends now, or with the last doffing of the day. */
const lastHour = (worn: Worn): number =>
  worn.on || !worn.today.length ? hoursOn(worn, now.value) : (worn.today.at(-1)!.until - worn.today[0]!.begun) / 3600e3;

function inWords(worn: Worn, water: ReturnType<typeof band>, hours: number): string {
  const first = worn.today[0];
  if (!first) return t("today.figure_none");
  const said: string[] = [];
  worn.today.forEach((sitting, i) => {
    const before = worn.today[i - 1];
    if (before) said.push(t("today.figure_off", { from: clock(before.until), to: clock(sitting.begun) }));
    for (const step of sitting.steps)
      if (step.total !== null) said.push(t("today.figure_step", { n: step.total, time: clock(step.ms) }));
  });
  if (!worn.on) said.push(t("today.figure_off_now", { from: clock(worn.today.at(-1)!.until) }));
  const usual = water && t("today.figure_usual", {
    n: number(Math.round(along(water.hours, water.mid, hours))),
    low: number(Math.round(along(water.hours, water.low, hours))),
    high: number(Math.round(along(water.hours, water.high, hours))),
  });
  return t("today.figure", { start: clock(first.begun), steps: said.join(", "), usual: usual ?? "", ceiling: t("today.figure_ceiling", { n: settings.value.ply_ceiling }) });
}
