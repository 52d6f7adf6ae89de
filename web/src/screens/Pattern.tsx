// Pattern: weeks at a look, then by month. What is read comes from the summary; every day opens into its entries.
import { useState } from "preact/hooks";
import { settings, summary, todayDate } from "../log/book";
import { localDay, zoneNow } from "../log/clock";
import type { Limb } from "../log/kinds";
import { isSilent, type LimbSummary, type Trend } from "../log/summary";
import { href } from "../nav";
import { Calendar, MONTHS } from "../pattern/Calendar";
import { average, slots, type Slot } from "../pattern/days";
import { Changes } from "../pattern/Changes";
import { Strip } from "../pattern/Strip";
import { Tracks } from "../pattern/Tracks";
import { TrendFigure } from "../pattern/TrendFigure";
import { syncState } from "../log/talk";
import { BigButton, TextButton } from "../parts/buttons";
import { Segment } from "../parts/choices";
import { Page } from "../parts/Page";
import { Said } from "../parts/Said";
import { WaysOn } from "../parts/WaysOn";
import { prefs, setPrefs } from "../prefs";
import { clock, fullDate, number, onDay, weekStart } from "../times";
import { sides } from "../today/fits";
import { t } from "../words";

type Shown = "weeks" | "calendar";

const readAt = (now: string) => `${onDay(localDay(now, zoneNow(), settings.value.day_starts), settings.value.day_starts)}, ${clock(now)}`;

export function Pattern() {
  const [shown, show] = useState<Shown>("weeks");
  const own = sides(settings.value);
  const side = own.includes(prefs.value.side) ? prefs.value.side : own[0]!;
  const limb = summary.value?.limbs[side];
  return (
    <Page title={t("pattern.title")} back={{ href: "#/today", name: t("common.today") }} touch={<WaysOn current="pattern" />}
      side={<Segment snug label={t("pattern.show")} value={shown} onPick={show}
        options={[{ value: "weeks", label: t("pattern.weeks") }, { value: "calendar", label: t("pattern.calendar") }]} />}>
      {own.length > 1 && (
        <Segment label={t("common.side")} value={side} onPick={(next) => setPrefs({ side: next })}
          options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }]} />
      )}
      {!limb ? <><p>{t("pattern.no_reading")}</p>{!syncState.value.paired && <BigButton out href={href("pair")}>{t("clinic.alone_pair")}</BigButton>}</> : shown === "weeks" ? <Weeks limb={limb} side={side} /> : <Months limb={limb} />}
      {limb && summary.value && <p class="small quiet">{t("pattern.read_at", { when: readAt(summary.value.now) })}</p>}
    </Page>
  );
}

function Weeks({ limb, side }: { limb: LimbSummary; side: Limb }) {
  const four = slots(limb.days, todayDate(), 28);
  const ceiling = settings.value.ply_ceiling;
  const trend = isSilent(limb.trend) ? null : limb.trend;
  return (
    <>
      <Strip slots={four.slice(-7)} ceiling={ceiling} />
      <p class="say">
        <b>{rise(four)}</b> <Said text={isSilent(limb.trend) ? limb.trend.reason : limb.trend.words} />
      </p>
      {trend && <Ahead trend={trend} />}
      <TrendFigure slots={four} trend={trend} ceiling={ceiling} label={inWords(four, ceiling)} />
      <ul class="legend small">
        <li><i class="sign-strand" />{t("pattern.legend_strand")}</li>
        <li><i class="sign-average" />{t("pattern.legend_average")}</li>
        <li><i class="sign-missing" />{t("pattern.legend_missing")}</li>
      </ul>
      <Tracks slots={four} limb={limb} side={side} />
      <Other limb={limb} />
      <Changes limb={limb} />
    </>
  );
}

/** What the summary says of dates ahead: when to ask for an appointment, what a socket ordered now would meet. */
function Ahead({ trend }: { trend: Trend }) {
  if (!trend.book_by && !trend.at_delivery) return null;
  return (
    <p class="small">
      {trend.book_by && (trend.book_by <= todayDate() ? t("pattern.book_now") : t("pattern.book_by", { date: fullDate(trend.book_by) }))}{" "}
      {trend.at_delivery && t("pattern.at_delivery", {
        date: fullDate(trend.at_delivery.date), low: trend.at_delivery.p10, high: trend.at_delivery.p90,
      })}
    </p>
  );
}

/** What is fitted by other means than socks: its own line, read the same way. */
function Other({ limb }: { limb: LimbSummary }) {
  const told = limb.fittings.filter((one) => one.days > 0);
  if (told.length === 0) return null;
  return (
    <section class="field">
      <h2>{t("pattern.other_fit")}</h2>
      {told.map((one) => (
        <p key={one.what}>
          <b>{t(`pattern.fit_${one.what as "dial"}`)}</b>{one.latest !== null && ` ${t("pattern.latest", { n: number(one.latest) })}`}{" "}
          <Said text={isSilent(one.trend) ? one.trend.reason : one.trend.words} />
        </p>
      ))}
    </section>
  );
}

function Months({ limb }: { limb: LimbSummary }) {
  const [months, setMonths] = useState(MONTHS);
  const earliest = limb.days[0]?.date ?? todayDate();
  const span = Number(todayDate().slice(0, 4)) * 12 + Number(todayDate().slice(5, 7)) - Number(earliest.slice(0, 4)) * 12 - Number(earliest.slice(5, 7));
  return (
    <>
      <label class="label">
        <span>{t("pattern.find")}</span>
        <input type="date" class="input" max={todayDate()} onChange={(e) => { if (e.currentTarget.value) location.hash = href("day", e.currentTarget.value); }} />
      </label>
      <ul class="legend small">
        <li><b>8</b> {t("pattern.legend_peak")}</li>
        <li><u class="was-sore" /> {t("pattern.legend_sore")}</li>
        <li><u class="was-found" /> {t("pattern.legend_found")}</li>
      </ul>
      <Calendar days={limb.days} months={months} weekStarts={weekStart()} />
      {months <= span && <TextButton onClick={() => setMonths(months + MONTHS)}>{t("pattern.earlier")}</TextButton>}
    </>
  );
}

/** How the averaged peak moved over what is shown. */
function rise(four: readonly Slot[]): string {
  const line = average(four, "peak").filter((v) => v !== null);
  if (line.length < 14) return "";
  const from = Math.round(line[0]!), to = Math.round(line.at(-1)!);
  return from === to ? t("pattern.level", { n: to }) : t("pattern.moved", { from, to });
}

function inWords(four: readonly Slot[], ceiling: number): string {
  const logged = four.filter(({ day }) => day?.peak != null);
  if (logged.length === 0) return t("pattern.figure_none");
  const of = (what: "start" | "peak") => logged.map(({ day }) => day![what]!).filter((v) => v !== null);
  return t("pattern.figure", {
    days: logged.length, start_low: Math.min(...of("start")), start_high: Math.max(...of("start")),
    peak_low: Math.min(...of("peak")), peak_high: Math.max(...of("peak")), ceiling, missing: four.length - logged.length,
  });
}
