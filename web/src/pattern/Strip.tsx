// The last seven days as vessels, filled to start and peak; one is chosen and said in a sentence.
import { useState } from "preact/hooks";
import { settings } from "../log/book";
import { href } from "../nav";
import { clock, nearDay, number, shortDay } from "../times";
import { t } from "../words";
import type { Slot } from "./days";

const TALL = 66;

export function Strip({ slots, ceiling }: { slots: readonly Slot[]; ceiling: number }) {
  const [chosen, choose] = useState(slots.at(-1)!.date);
  const scale = TALL / Math.max(ceiling + 1, ...slots.map(({ day }) => day?.peak ?? 0));
  const slot = slots.find(({ date }) => date === chosen) ?? slots.at(-1)!;
  return (
    <div class="field">
      <div class="strip" role="radiogroup" aria-label={t("pattern.strip")}>
        {slots.map(({ date, day }, i) => (
          <label key={date}>
            <input type="radio" name="strip" checked={date === chosen} onChange={() => choose(date)} aria-label={sentence({ date, day })} />
            <span aria-hidden="true">{i === slots.length - 1 ? t("pattern.today") : shortDay(date)}</span>
            <Vessel slot={{ date, day }} scale={scale} />
            <b aria-hidden="true">{day?.peak ?? "–"}{day?.partial ? "…" : ""}</b>
            <span class="also" aria-hidden="true">{day?.skin === "finding" ? t("pattern.finding_mark") : day?.sore_worst ? t("pattern.sore_mark") : ""}</span>
          </label>
        ))}
      </div>
      <p class="small quiet" aria-live="polite">
        {sentence(slot)} <a href={href("day", slot.date)}>{t("pattern.open_day")}</a>
      </p>
    </div>
  );
}

function Vessel({ slot: { day }, scale }: { slot: Slot; scale: number }) {
  if (!day || day.peak === null || day.start === null)
    return <svg class="vessel" width="34" height={TALL} aria-hidden="true"><rect class="none" x="1" y="1" width="32" height={TALL - 2} rx="5" /></svg>;
  const rise = (day.peak - day.start) * scale;
  const start = day.start * scale;
  return (
    <svg class="vessel" width="34" height={TALL} aria-hidden="true">
      <rect class="glass" width="34" height={TALL} rx="5" />
      {rise > 1 && <rect class="wool-3" y={TALL - start - rise} width="34" height={rise - 1} rx="3" />}
      <rect class="wool-2" y={TALL - start} width="34" height={start} rx="3" />
    </svg>
  );
}

/** "Wednesday: 5 at the start, 10 at the peak (15:40), 6.4 h on, sore 4." */
function sentence({ date, day }: Slot): string {
  const name = nearDay(date, settings.value.day_starts);
  if (!day) return t("pattern.no_log", { day: name });
  const said = [
    day.start !== null && t("pattern.at_start", { n: day.start }),
    day.peak !== null && (day.peak_at
      ? t(day.partial ? "pattern.peak_so_far_at" : "pattern.at_peak_at", { n: day.peak, time: clock(day.peak_at, day.zone) })
      : t("pattern.at_peak", { n: day.peak })),
    day.worn_h !== null && t("pattern.worn", { n: number(Math.round(day.worn_h * 10) / 10) }),
    day.sore_worst !== null && t("pattern.sore_n", { n: day.sore_worst }),
    day.skin === "clear" && t("pattern.skin_clear"),
    day.skin === "finding" && t("pattern.skin_finding"),
    day.gaps.length > 0 && t("pattern.has_gap"),
  ].filter(Boolean);
  return t("pattern.day_said", { day: name, what: said.join(", ") || t("pattern.only_other") });
}
