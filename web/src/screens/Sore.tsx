// A sore spot: where on the limb, how sore, how it feels. Phantom pain is felt where the leg no longer is, and kept apart.
import { useState } from "preact/hooks";
import type { Spot } from "../limb/geometry";
import { ownLimb, placeName, type OwnLimb } from "../limb/names";
import { current, entries, erase, newId, restore, settings, summary, write } from "../log/book";
import { localDay } from "../log/clock";
import type { EntryOf, SoreBody } from "../log/kinds";
import { nowForAt } from "../log/offset";
import { href, type ScreenProps } from "../nav";
import { BigButton, TextButton } from "../parts/buttons";
import { Score, Segment } from "../parts/choices";
import { Page } from "../parts/Page";
import { PlacePicker, type Mode } from "../parts/PlacePicker";
import { SideChoice, sideOf } from "../parts/sides";
import { Troubles } from "../parts/Troubles";
import { Feels, type Feel } from "../sore/Feels";
import { earlierMarks, lastByRegion, soreEntries } from "../sore/marks";
import { Phantom } from "../sore/Phantom";
import { clock, nearDay } from "../times";
import { t } from "../words";

/** Phantom pain has no place on the limb; the entry stands at its tip. */
const NOWHERE: Spot = { height: 0, angle: 0 };

type Draft = { spot: Spot | null; phantom: boolean; score: number | null; feel: Feel | null };
const EMPTY: Draft = { spot: null, phantom: false, score: null, feel: null };

export function Sore({ at }: ScreenProps) {
  const limb = ownLimb(sideOf(at[0]));
  const [mode, setMode] = useState<Mode>("drawing");
  const [draft, setDraft] = useState(EMPTY);
  const [missing, setMissing] = useState<"place" | "choice" | "score" | null>(null);
  const [weeks, setWeeks] = useState(false);
  const [saved, setSaved] = useState<string | null>(null);
  const [savedAt, setSavedAt] = useState(0);
  const set = (change: Partial<Draft>) => { setDraft((old) => ({ ...old, ...change })); setMissing(null); };

  const own = soreEntries(entries.value, limb.side);
  const rings = earlierMarks(own, limb, nowForAt()).map(({ entry: { body }, times }) => ({ spot: body, text: String(body.intensity), times }));
  const found = saved ? current(saved) : undefined;
  const done = found?.kind === "sore" ? found : null;
  const heat = summary.value?.limbs[limb.side]?.heat ?? [];
  const notes = new Map(mode === "list" ? [...lastByRegion(own, limb)].map(([id, e]) => [id, t("sore.last", { day: dayOf(e), what: inShort(e.body) })]) : []);

  const keep = (body: SoreBody) => {
    const id = newId();
    void write("sore", limb.side, body, { id }).catch(() => {}); // told by Troubles, with the entry kept
    setSaved(id);
    setSavedAt(performance.now());
    setDraft(EMPTY);
    setMissing(null);
  };
  const save = () => {
    const { spot, phantom, score, feel } = draft;
    const place = phantom ? NOWHERE : spot;
    if (!place) return setMissing(mode === "list" ? "choice" : "place");
    if (score === null) return setMissing("score");
    keep({ ...place, intensity: score, feel, phantom });
  };

  return (
    <Page title={t("sore.title")} back={{ href: "#/today", name: t("common.today") }}
      side={!draft.phantom && (
        <Segment snug label={t("limb.show_as")} value={mode} onPick={setMode}
          options={[{ value: "drawing", label: t("limb.drawing") }, { value: "list", label: t("limb.list") }]} />
      )}
      touch={
        <>
          <Score label={t("sore.how")} hint={t("sore.how_hint")} value={draft.score} onPick={(score) => set({ score })} />
          <Feels feel={draft.feel} phantom={draft.phantom} onFeel={(feel) => set({ feel })} onPhantom={(phantom) => set({ phantom })} />
          {missing && <p role="alert" class="missing">{t(`sore.need_${missing}`)}</p>}
          <div class="two">
            {done ? <TakeBack key="beside" entry={done} since={savedAt} /> : own[0] && <SameAsLast key="beside" last={own[0]} onTap={() => keep(bodyOf(own[0]!))} />}
            <BigButton onClick={save}>{t(draft.phantom ? "sore.save_phantom" : "sore.save")}</BigButton>
          </div>
        </>
      }>
      <Troubles />
      <SideChoice screen="sore" side={limb.side} />
      {draft.phantom ? <><Phantom />{done && <div role="status"><Done entry={done} limb={limb} /></div>}</> : (
        <PlacePicker limb={limb} mode={mode} spot={draft.spot} onSpot={(spot) => set({ spot })} earlier={weeks ? [] : rings} notes={notes}
          heat={weeks ? heat : []} corner={heat.length > 0 && (
            <TextButton label={t(weeks ? "sore.rings_label" : "sore.weeks_label")} onClick={() => setWeeks(!weeks)}>{t(weeks ? "sore.rings" : "sore.weeks")}</TextButton>
          )}
          text={draft.score === null ? "" : String(draft.score)} ask={t(mode === "list" ? "sore.choose" : "sore.tap")} done={done && <Done entry={done} limb={limb} />} />
      )}
    </Page>
  );
}

const bodyOf = ({ body: { height, angle, intensity, feel, phantom } }: EntryOf<"sore">): SoreBody =>
  ({ height, angle, intensity, feel: feel ?? null, phantom: phantom ?? false });

/** "3, rubs", and "phantom" where it is that. */
const inShort = (body: SoreBody): string =>
  [body.intensity, body.phantom && t("sore.phantom").toLowerCase(), body.feel && t(`sore.${body.feel}`).toLowerCase()].filter((part) => part !== false && part !== null && part !== undefined).join(", ");

const dayOf = (entry: EntryOf<"sore">): string =>
  nearDay(localDay(entry.at, entry.zone, settings.value.day_starts), settings.value.day_starts);

const SameAsLast = ({ last, onTap }: { last: EntryOf<"sore">; onTap: () => void }) => (
  <BigButton out onClick={onTap} small={t("sore.last", { day: dayOf(last), what: inShort(last.body) })}>{t("sore.same")}</BigButton>
);

const ONE_INTENT_MS = 500; // the button takes the place of another, or comes beside Save: a second tap meant that one

/** The way to take back what was just saved, where the thumb is. */
function TakeBack({ entry, since }: { entry: EntryOf<"sore">; since: number }) {
  const turn = () => { if (performance.now() - since > ONE_INTENT_MS) void (entry.erased ? restore(entry) : erase(entry)).catch(() => {}); };
  return <BigButton out onClick={turn} small={inShort(entry.body)}>{t(entry.erased ? "common.redo" : "common.undo")}</BigButton>;
}

/** What was just saved; it leads to the entry. */
function Done({ entry, limb }: { entry: EntryOf<"sore">; limb: OwnLimb }) {
  const what = `${entry.body.phantom ? t("sore.phantom_title") : placeName(limb.level, entry.body)}, ${entry.body.intensity}`;
  const said = t(entry.erased ? "sore.undone" : "sore.saved", { what, time: clock(entry.at, entry.zone) });
  return <a class="just-saved" href={href("entry", entry.id)}>{said}<span class="unseen">{t("today.change")}</span></a>;
}
