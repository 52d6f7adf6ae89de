// With the leg off: when marks should have faded, and once they should have, the question. It is worked out from the log,
// so that it stands after a reload and offline, on whichever leg's side Today is.
import { amend, entries, settings, todayDate } from "../log/book";
import { localDay } from "../log/clock";
import type { Entry, Finding, Limb } from "../log/kinds";
import { go, href } from "../nav";
import { TextButton } from "../parts/buttons";
import { prefs, setPrefs } from "../prefs";
import { fadeLimit } from "../signs/fill";
import { answered, asking, gone, goneLate, stillThere, type Asking } from "../skin/due";
import { minutesSince, timer, type Timer } from "../skin/timer";
import { clock } from "../times";
import { t } from "../words";
import { now, wornNow } from "./now";

export function SkinAsk({ own }: { own: readonly Limb[] }) {
  const profile = settings.value;
  const at = now.value;
  const isToday = (entry: Entry) => localDay(entry.at, entry.zone, profile.day_starts) === todayDate();
  return <>{own.map((side) => {
    const { offSince } = wornNow(side);
    const stands = timer(offSince, fadeLimit(profile), at);
    if (stands.state === "none") return null;
    const ask = asking(entries.value, side, stands.since, isToday);
    return ask && <Ask key={side} side={side} ask={ask} at={stands} named={own.length > 1} />;
  })}</>;
}

type Props = { side: Limb; ask: Asking; at: Exclude<Timer, { state: "none" }>; named: boolean };

function Ask({ side, ask, at, named }: Props) {
  const whose = named && <b>{t(`common.${side}`)}. </b>;
  const look = href("skin", side);
  if (at.state === "waiting")
    return <p class="skin-ask waits">{whose}<a href={look}>{t(ask.about === "mark" ? "today.mark_wait" : "today.look_wait", { time: clock(at.until) })}</a></p>;
  if (ask.about === "look" && prefs.value.notNow === at.since) return null;
  const limit = Math.floor((at.until - at.since) / 60e3);
  const answer = (to: Partial<Finding>) => {
    amend(ask.entry!, { body: answered(ask.entry!.body, to) }).catch(() => {}); // told by Troubles, with the entry kept
    go(look); // what it comes to, and the way to take it back, stand there
  };
  return (
    <section class="skin-ask" role="status" aria-label={t("today.skin")}>
      <p>{whose}<b>{t(ask.about === "mark" ? "today.mark_due" : "today.look_due", { n: at.minutes, limit })}</b></p>
      <div class="acts">
        {ask.about === "mark"
          ? <>
            <TextButton onClick={() => answer(gone(limit))}>{t("today.mark_in_time")}</TextButton>
            <TextButton onClick={() => answer(goneLate(minutesSince(at, now.value)!, limit))}>{t("today.mark_gone")}</TextButton>
            <TextButton onClick={() => answer(stillThere(at))}>{t("today.mark_still")}</TextButton>
          </>
          : <><TextButton href={look}>{t("today.look_now")}</TextButton><TextButton onClick={() => setPrefs({ notNow: at.since })}>{t("today.not_now")}</TextButton></>}
      </div>
    </section>
  );
}
