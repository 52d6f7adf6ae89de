// The skin check. All clear is one tap. A finding is kept the moment it is ticked, and what it calls for stands on the
// screen with it; where, how big and whether it fades are added to the same entry.
import { useRef, useState } from "preact/hooks";
import { ownLimb } from "../limb/names";
import { amend, current, entries, erase, newId, restore, settings, write } from "../log/book";
import { localDay } from "../log/clock";
import type { EntryOf, Limb, SkinBody } from "../log/kinds";
import { nowForAt } from "../log/offset";
import { go, href, type ScreenProps } from "../nav";
import { BigButton, TextButton, UndoRow } from "../parts/buttons";
import { Page } from "../parts/Page";
import { CheckRow, Rows } from "../parts/rows";
import { SideChoice, sideOf } from "../parts/sides";
import { SignCard } from "../parts/SignCard";
import { Troubles } from "../parts/Troubles";
import { ownSign } from "../signs/own";
import { fadeLimit, metBy } from "../signs/rules";
import { ActNow, Calls } from "../skin/ActNow";
import { change, CLEAR, isEmpty, NOTHING, rowOf, tick, type What } from "../skin/check";
import { goingOn, isQuiet } from "../skin/due";
import { Ebb, useTimer } from "../skin/Ebb";
import { FindingList } from "../skin/FindingList";
import { Found } from "../skin/Found";
import { UnwellPart } from "../skin/UnwellPart";
import { clock, onDay } from "../times";
import { now } from "../today/now";
import { standing } from "../today/standing";
import { worn } from "../today/wear";
import { t } from "../words";

export function Skin({ at }: ScreenProps) {
  const side = sideOf(at[0]);
  const limb = ownLimb(side);
  const profile = settings.value;
  const { on, offSince } = worn(entries.value, side, now.value, profile.day_starts);
  const limit = fadeLimit(profile);
  const timer = useTimer(offSince, limit);
  const { body, entry, update, turn } = useCheck(side, offSince);
  const [tips, setTips] = useState(false);
  const [more, setMore] = useState(false);

  const findings = body.findings ?? [];
  const met = metBy("skin", body, profile).filter((sign) => sign.level !== "watch");
  const any = !isEmpty(body) && !body.clear;
  const stands = standing.value.filter((s) => (s.level === "emergency" || s.level === "same_day") && !(s.side === side && met.some((m) => m.code === s.code))).map((s) => ownSign(s, settings.value));
  const unwellShown = more || typeof body.fever_c === "number" || (body.unwell ?? []).length > 0;

  return (
    <Page title={t("skin.title")} back={{ href: "#/today", name: t("common.today") }}
      {...(offSince !== null ? { side: t("skin.leg_off", { time: clock(offSince) }) } : {})}
      touch={
        <>
          {met.length > 0 ? <Calls met={met} side={side} />
            : body.end_unseen && !body.clear && isQuiet(body) ? <BigButton key="main" tall icon="check" small={t("skin.rest_clear_small")} onClick={() => update({ ...body, clear: true })}>{t("skin.rest_clear")}</BigButton>
            : any || body.clear ? <BigButton key="main" tall icon="check" onClick={() => go("#/today")}>{t("common.done")}</BigButton>
            : <BigButton key="main" tall icon="check" small={t("skin.clear_small")} onClick={() => update(CLEAR)}>{t("skin.clear")}</BigButton>}
          {!any && !body.clear && (
            <div class="two">
              <BigButton out onClick={() => setTips(!tips)}>{t("skin.cannot_see")}</BigButton>
              <BigButton out href="#/today">{t("skin.not_now")}</BigButton>
            </div>
          )}
          {entry && <Saved entry={entry} onTurn={turn} />}
        </>
      }>
      <Troubles />
      <SideChoice screen="skin" side={side} />
      {met.length > 0 && <ActNow met={met} body={body} />}
      {stands[0] && <SignCard sign={stands[0]} clinicPhone={profile.clinic_phone} emergencyPhone={profile.emergency_phone} whyHref={href("signs", stands[0].code)} brief />}
      <Ebb timer={timer} limitMin={limit} side={side} on={!!on} offSince={offSince} />
      {(tips || body.end_unseen) && <Tips unseen={body.end_unseen ?? false} onUnseen={(end_unseen) => update({ ...body, end_unseen })} />}
      {findings.length > 0 && <h2>{t("skin.found")}</h2>}
      {findings.map((finding, i) => (
        <Found key={rowOf(finding.what)} finding={finding} limb={limb} timer={timer} entryId={entry?.id ?? null}
          onChange={(to) => update(change(body, i, to))} onRemove={() => update(tick(body, rowOf(finding.what), false))} />
      ))}
      <div class="looking">
        <h2>{t(findings.length ? "skin.add" : "skin.ask")}</h2>
        {!findings.length && <p class="small quiet">{t("skin.dark_skin")}</p>}
        {!any && !body.clear && <LastLook side={side} />}
        <FindingList chosen={new Set<What>(findings.map((f) => rowOf(f.what)))} onTick={(what, ticked) => update(tick(body, what, ticked))} onMore={() => setMore(true)} />
      </div>
      {unwellShown && <UnwellPart body={body} onChange={(to) => update({ ...body, ...to, clear: false })} />}
    </Page>
  );
}

/** The check being made: one entry, written with the first thing said and amended by the next. */
function useCheck(side: Limb, offSince: number | null) {
  const id = useRef<string | null | undefined>(undefined);
  const [, redraw] = useState(0);
  if (id.current === undefined) id.current = goingOn(entries.value, side, offSince, nowForAt())?.id ?? null;
  const found = id.current ? (entries.value.find((e) => e.id === id.current) ?? current(id.current)) : undefined;
  const entry = found?.kind === "skin" ? (found as EntryOf<"skin">) : null;
  const body: SkinBody = entry && !entry.erased ? entry.body : NOTHING;
  const told = (written: Promise<unknown>) => void written.catch(() => {}); // Troubles says so, and keeps the entry
  const update = (next: SkinBody) => {
    if (isEmpty(next)) { if (entry && !entry.erased) told(erase(entry)); id.current = null; }
    else if (entry && !entry.erased && !(entry.body.clear && !next.clear)) told(amend(entry, { body: next }));
    else { id.current = newId(); told(write("skin", side, next, { id: id.current })); }
    redraw((n) => n + 1);
  };
  const turn = () => { if (entry) told(entry.erased ? restore(entry) : erase(entry)); redraw((n) => n + 1); };
  return { body, entry, update, turn };
}

/** What was saved last, and the way to take it back. */
function Saved({ entry, onTurn }: { entry: EntryOf<"skin">; onTurn: () => void }) {
  const time = clock(entry.at, entry.zone);
  const said = entry.erased ? t("skin.undone", { time }) : t(entry.body.end_unseen && isQuiet(entry.body) ? "skin.saved_unseen" : entry.body.clear ? "skin.saved_clear" : "skin.saved", { time });
  return (
    <div role="status" data-passing>
      <UndoRow said={said} href={href("entry", entry.id)} label={t("skin.change", { said })}>
        <TextButton onClick={onTurn}>{t(entry.erased ? "common.redo" : "common.undo")}</TextButton>
      </UndoRow>
    </div>
  );
}

function LastLook({ side }: { side: Limb }) {
  const last = entries.value.findLast((e): e is EntryOf<"skin"> => e.kind === "skin" && e.limb === side);
  if (!last) return null;
  const { day_starts } = settings.value;
  const when = { day: onDay(localDay(last.at, last.zone, day_starts), day_starts), time: clock(last.at, last.zone) };
  const names = [...new Set((last.body.findings ?? []).map((f) => t(`skin.${f.what}`).toLowerCase()))].join(", ");
  return <p class="small quiet">{last.body.end_unseen && isQuiet(last.body) ? t("skin.last_unseen", when) : last.body.clear ? t("skin.last_clear", when) : t("skin.last_found", { ...when, what: names || t("skin.unwell_title").toLowerCase() })}</p>;
}

/** Ways to see the end; where none of them did, that is an entry too: the rest was looked at, the end was not. */
const Tips = ({ unseen, onUnseen }: { unseen: boolean; onUnseen: (unseen: boolean) => void }) => (
  <section class="card tips" role="status">
    <h2>{t("skin.tips_title")}</h2>
    <ul>{(["mirror", "camera", "hand", "ask"] as const).map((tip) => <li key={tip}>{t(`skin.tip_${tip}`)}</li>)}</ul>
    <Rows><CheckRow checked={unseen} onChange={onUnseen} small={t("skin.end_unseen_small")}><b>{t("skin.end_unseen")}</b></CheckRow></Rows>
  </section>
);
