// Months as a calendar: each logged day shows its peak, a dot where it was sore, a bar where the skin had a finding.
import { useEffect, useState } from "preact/hooks";
import { settings, todayDate } from "../log/book";
import { addDays } from "../log/clock";
import type { DaySummary } from "../log/summary";
import { href } from "../nav";
import { fullDate, monthName, weekdayNames } from "../times";
import { t } from "../words";

/** Months shown at first, and added by "Earlier". */
export const MONTHS = 3;

type Props = { days: readonly DaySummary[]; months: number; weekStarts: number };

export function Calendar({ days, months, weekStarts }: Props) {
  const known = new Map(days.filter((d) => d.logged).map((d) => [d.date, d]));
  const names = weekdayNames(weekStarts);
  const today = todayDate();
  const [drawn, draw] = useState(1); // a month a frame: all at once would take longer than a tap may
  useEffect(() => {
    if (drawn >= months) return;
    const frame = requestAnimationFrame(() => draw(drawn + 1));
    return () => cancelAnimationFrame(frame);
  }, [drawn, months]);
  return (
    <>
      {monthsBack(today, Math.min(drawn, months)).map((month) => (
        <section key={month} class="month">
          <h2>{monthName(month + "-01")}</h2>
          <div class="cells" role="list">
            {names.map((name) => <span key={name} class="weekday" aria-hidden="true">{name}</span>)}
            {datesOf(month).map((date, i) => (
              <Cell key={date} date={date} today={today} day={known.get(date)} column={i === 0 ? column(date, weekStarts) : null} />
            ))}
          </div>
        </section>
      ))}
    </>
  );
}

type CellProps = { date: string; today: string; day: DaySummary | undefined; column: number | null };

function Cell({ date, today, day, column }: CellProps) {
  const style = column === null ? {} : { gridColumnStart: column };
  const number = Number(date.slice(8));
  if (date > today) return <span class="cell ahead" style={style} role="listitem"><i>{number}</i></span>;
  const peak = day?.peak ?? null;
  const heavy = peak === null ? "" : peak >= settings.value.ply_ceiling ? " at-ceiling" : peak >= settings.value.ply_review ? " at-review" : "";
  const said = [
    fullDate(date),
    !day ? t("pattern.nothing") : peak === null ? "" : t("pattern.at_peak", { n: peak }),
    day?.sore_worst ? t("pattern.sore_n", { n: day.sore_worst }) : "",
    day?.skin === "finding" ? t("pattern.skin_finding") : "",
  ].filter(Boolean).join(", ");
  return (
    <span role="listitem" style={style} class="cell-frame">
      <a class={`cell${day ? "" : " none"}${heavy}`} href={href("day", date)} aria-label={said} aria-current={date === today ? "date" : undefined}>
        <i aria-hidden="true">{number}</i>
        <b aria-hidden="true">{peak ?? ""}</b>
        <span class="under" aria-hidden="true">{day?.sore_worst ? <u class="was-sore" /> : null}{day?.skin === "finding" ? <u class="was-found" /> : null}</span>
      </a>
    </span>
  );
}

/** The month of `today` and those before it, newest first, as YYYY-MM. */
function monthsBack(today: string, count: number): string[] {
  let first = today.slice(0, 7) + "-01";
  return Array.from({ length: count }, () => {
    const month = first.slice(0, 7);
    first = addDays(first, -1).slice(0, 7) + "-01";
    return month;
  });
}

function datesOf(month: string): string[] {
  const out: string[] = [];
  for (let date = month + "-01"; date.startsWith(month); date = addDays(date, 1)) out.push(date);
  return out;
}

/** The column, 1 to 7, of a date in a week that starts on `weekStarts` (1 Monday .. 7 Sunday). */
function column(date: string, weekStarts: number): number {
  const weekday = new Date(date + "T12:00:00Z").getUTCDay() || 7;
  return ((weekday - weekStarts + 7) % 7) + 1;
}
