// Breaking in a new socket: the clinic's steps, today's step, and what gains the next one.
import { useEffect, useState } from "preact/hooks";
import { entries, settings, todayDate } from "../log/book";
import { entriesBetween } from "../log/past";
import type { BreakInStep, Entry } from "../log/kinds";
import { byDay, place, SLOWEST, wornDays, type Place } from "../breakin/plan";
import { href } from "../nav";
import { BigButton, TextButton } from "../parts/buttons";
import { Stepper } from "../parts/choices";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { setProfile } from "../profile";
import { now } from "../today/now";
import { shownNow } from "../today/outside";
import { worn } from "../today/wear";
import { t } from "../words";

export function BreakIn() {
  const { limb } = shownNow();
  const { break_in: steps, day_starts } = settings.value;
  const found = useSinceSocket(limb);
  const at = found && place(steps, wornDays(found, limb, day_starts), todayDate());
  const [editing, setEditing] = useState(false);
  return (
    <Page title={t("breakin.title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="breakin" />}>
      {steps.length === 0 && (
        <>
          <p>{t("breakin.none")}</p>
          <p>{t("breakin.disagree")}</p>
          <BigButton out small={t("breakin.slowest_small")} onClick={() => setProfile({ break_in: [...SLOWEST] })}>{t("breakin.slowest")}</BigButton>
        </>
      )}
      {at && <Standing at={at} limb={limb} />}
      {steps.length > 0 && !editing && (
        <section class="field">
          <h2>{t("breakin.plan")}</h2>
          <Rows label={t("breakin.plan")}>
            {byDay(steps).map((step, i) => (
              <Row key={i} lead={t("breakin.day", { n: i + 1 })} side={at && i < at.gained ? <span class="small quiet">{t("breakin.gained")}</span> : at && i === at.number - 1 && !at.done ? <b>{t("common.today")}</b> : null}>
                {said(step)}
              </Row>
            ))}
          </Rows>
        </section>
      )}
      {editing || steps.length === 0 ? <Steps steps={steps} done={() => setEditing(false)} /> : <TextButton onClick={() => setEditing(true)}>{t("breakin.edit")}</TextButton>}
      <p class="small quiet">{t("breakin.rule")}</p>
    </Page>
  );
}

/** "45 min", "2 h", "2 h 30 min". */
function lasting(minutes: number): string {
  const hours = Math.floor(minutes / 60), rest = minutes % 60;
  return [hours > 0 && t("common.hours", { n: hours }), (rest > 0 || hours === 0) && t("common.minutes", { n: rest })].filter(Boolean).join(" ");
}

const said = ({ minutes, times }: { minutes: number; times: number }): string =>
  times > 1 ? t("breakin.step_times", { time: lasting(minutes), times }) : lasting(minutes);

function Standing({ at, limb }: { at: Place; limb: "left" | "right" }) {
  const state = worn(entries.value, limb, now.value, settings.value.day_starts);
  const minutes = state.on ? Math.floor((now.value - state.on.since) / 60e3) : null;
  return (
    <section class="field">
      <p class="say"><b>{at.done ? t("breakin.done") : t("breakin.today", { step: said(at.step) })}</b></p>
      {!at.done && minutes !== null && <p role="status">{t(minutes >= at.step.minutes ? "breakin.time_up" : "breakin.on_for", { n: lasting(minutes), of: lasting(at.step.minutes) })}</p>}
      {!at.done && at.held === "skin" && <p>{t("breakin.held_skin")}</p>}
      {!at.done && at.held === "no_look" && <p>{t("breakin.held_no_look")}</p>}
      <a class="text-button" href={href("skin", limb)}>{t("today.skin")}</a>
    </section>
  );
}

function Steps({ steps, done }: { steps: readonly BreakInStep[]; done: () => void }) {
  const [minutes, setMinutes] = useState(30);
  const [times, setTimes] = useState(1);
  const [days, setDays] = useState(1);
  const words = { less: t("common.less"), more: t("common.more") };
  return (
    <section class="field">
      <h2>{t("breakin.enter")}</h2>
      {steps.length > 0 && (
        <Rows label={t("breakin.plan")}>
          {steps.map((step, i) => (
            <Row key={i} small={t("breakin.for_days", { n: step.days ?? 1 })}
              side={<TextButton onClick={() => setProfile({ break_in: steps.filter((_, n) => n !== i) })}>{t("breakin.remove")}</TextButton>}>
              {said({ minutes: step.minutes, times: step.times ?? 1 })}
            </Row>
          ))}
        </Rows>
      )}
      <Stepper label={t("breakin.minutes")} value={minutes} least={5} most={1440} unit={t("breakin.minutes")} words={words} onChange={(n) => setMinutes(Math.max(5, minutes + (n > minutes ? 5 : -5)))} />
      <Stepper label={t("breakin.times")} value={times} least={1} most={12} unit={t("breakin.times")} words={words} onChange={setTimes} />
      <Stepper label={t("breakin.days")} value={days} least={1} most={60} unit={t("breakin.days")} words={words} onChange={setDays} />
      <BigButton out onClick={() => setProfile({ break_in: [...steps, { minutes, times, days }] })}>{t("breakin.add")}</BigButton>
      {steps.length > 0 && <TextButton onClick={done}>{t("common.done")}</TextButton>}
    </section>
  );
}

/** The limb's entries since its last new or test socket; all that are known where none was logged. Null while read. */
function useSinceSocket(limb: string): Entry[] | null {
  const [found, setFound] = useState<Entry[] | null>(null);
  const live = entries.value;
  const socket = live.findLast((e) => e.kind === "change" && e.limb === limb && ["new_socket", "test_socket"].includes(e.body.what));
  const since = socket?.at ?? "1970";
  useEffect(() => {
    let current = true;
    void entriesBetween(since, "9999").then((all) => { if (current) setFound(all); });
    return () => { current = false; };
  }, [since, live]);
  return found;
}
