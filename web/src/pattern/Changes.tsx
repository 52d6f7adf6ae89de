// Before and after each change to the socket: what was different, with how sure the log can be.
import { settings } from "../log/book";
import type { Compare, LimbSummary, Measure } from "../log/summary";
import { nearDay, number } from "../times";
import { t, type Key } from "../words";

export function Changes({ limb }: { limb: LimbSummary }) {
  const told = limb.compare.filter(({ measures }) => measures.some((m) => m.before !== null && m.after !== null));
  if (told.length === 0) return null;
  return (
    <section class="field">
      <h2>{t("pattern.changes")}</h2>
      {[...told].reverse().map((change) => <Change key={change.change_id} change={change} />)}
      <p class="small quiet">{t("pattern.changes_note")}</p>
    </section>
  );
}

function Change({ change }: { change: Compare }) {
  const name = t(`pattern.change_${change.what}` as Key);
  return (
    <table class="compare">
      <caption>{name}, {nearDay(change.at.slice(0, 10), settings.value.day_starts)}</caption>
      <thead><tr><th scope="col">{t("pattern.measure")}</th><th scope="col">{t("pattern.before")}</th><th scope="col">{t("pattern.after")}</th></tr></thead>
      <tbody>
        {change.measures.filter(says).map((m) => (
          <tr key={m.name}>
            <th scope="row">{t(`pattern.measure_${m.name}` as Key)}<small>{shift(m)}</small></th>
            <td>{number(one(m.before!))}</td>
            <td>{number(one(m.after!))}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A number on both sides, and not the same nothing on both. */
const says = (m: Measure) => m.before !== null && m.after !== null && !(m.before === 0 && m.after === 0);

const one = (n: number) => Math.round(n * 10) / 10;

/** The interval of the shift where there is one; "too few days" where there is not. */
function shift({ shift, low, high, n_before, n_after }: Measure): string {
  if (shift === null) return t("pattern.few_days", { before: n_before, after: n_after });
  if ([shift, low, high].every((n) => n === null || one(n) === 0)) return t("pattern.no_shift");
  if (low === null || high === null || one(low) === one(high)) return t("pattern.shift", { n: number(one(shift)) });
  return t("pattern.shift_between", { n: number(one(shift)), low: number(one(low)), high: number(one(high)) });
}
