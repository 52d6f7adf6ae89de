// Every entry of one day, in order; each opens to be put right. What was taken out stays in the list, struck through.
import { useEffect, useState } from "preact/hooks";
import { entries, settings, todayDate, type Entry } from "../log/book";
import { entriesOfDay } from "../log/past";
import { addDays } from "../log/clock";
import { href, type ScreenProps } from "../nav";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { clock, fullDate, longDay, nearDay } from "../times";
import { t } from "../words";
import { telling } from "../words/telling";
import { names } from "./names";

/** Entries that are not about a day: what the wearer owns, is, and plans. */
const STANDING_KINDS: ReadonlySet<string> = new Set(["sock", "need", "question", "option", "trip", "visit", "profile"]);

export function Day({ at }: ScreenProps) {
  const today = todayDate();
  const date = at[0] && /^\d{4}-\d\d-\d\d$/.test(at[0]) ? at[0] : today;
  const [list, setList] = useState<Entry[] | null>(null);
  const live = entries.value; // a change anywhere, here or on another device, reads the day again
  useEffect(() => {
    let current = true;
    void entriesOfDay(date, true).then((found) => { if (current) setList(found.filter((e) => !STANDING_KINDS.has(e.kind))); });
    return () => { current = false; };
  }, [date, live]);
  const called = names();
  const two = (settings.value.limbs ?? []).length > 1;
  return (
    <Page title={t("entry.day_title")} back={{ href: "#/today", name: t("common.today") }} side={nearDay(date, settings.value.day_starts)} touch={<WaysOn current="day" />}>
      <nav class="turn" aria-label={t("entry.day_title")}>
        <a class="text-button" href={href("day", addDays(date, -1))}>{t("entry.day_before")}</a>
        {date < today && <a class="text-button" href={href("day", addDays(date, 1))}>{t("entry.day_after")}</a>}
      </nav>
      <h2>{date.slice(0, 4) === today.slice(0, 4) ? longDay(date) : fullDate(date)}</h2>
      {list?.length === 0 && <p>{t("entry.none")}</p>}
      {list && list.length > 0 && (
        <>
          <Rows label={longDay(date)}>
            {list.map((entry) => {
              const { what, small } = telling(entry, called);
              const side = two && entry.limb ? t("entry.of_limb", { limb: t(`entry.limb_${entry.limb}`) }) : "";
              const said = [entry.erased ? t("entry.taken_out") : "", side, small].filter(Boolean).join(", ");
              return <Row key={entry.id} gone={entry.erased} href={href("entry", entry.id, date)} lead={<time dateTime={entry.at}>{clock(entry.at, entry.zone)}</time>} small={said}>{what}</Row>;
            })}
          </Rows>
          <p class="small quiet">{t("entry.add_here")}</p>
        </>
      )}
    </Page>
  );
}
