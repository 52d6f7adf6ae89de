// A sore spot: where on the limb, how sore, how it feels. Phantom pain is felt where the leg no longer is, and kept apart.
import { useState } from "preact/hooks";
import type { Spot } from "../limb/geometry";
import { ownLimb, placeName, type OwnLimb } from "../limb/names";
import { current, entries, erase, newId, restore, settings, summary, write } from "../log/book";
import { localDay } from "../log/clock";
import type { EntryOf, SoreBody } from "../log/kinds";
import { nowForAt } from "../log/offset";
import { href, type ScreenProps } from "../nav";
import { BigButton, TextButton, UndoRow } from "../parts/buttons";
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
  const set = (change: Partial<Draft>) => { setDraft((old) => ({ ...old, ...change })); setMissing(null); };

  const own = soreEntries(entries.value, limb.side);
  const rings = earlierMarks(own, limb, nowForAt()).map(({ entry: { body }, times }) => ({ spot: body, text: String(body.intensity), times }));
  const heat = summary.value?.limbs[limb.side]?.heat ?? [];
  const notes = new Map([...lastByRegion(own, limb)].map(([id, e]) => [id, t("sore.last", { day: dayOf(e), what: inShort(e.body) })]));

  const keep = (body: SoreBody) => {
    const id = newId();
    void write("sore", limb.side, body, { id }).catch(() => {}); // told by Troubles, with the entry kept
    setSaved(id);
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
            {own[0] && <SameAsLast last={own[0]} onTap={() => keep(bodyOf(own[0]!))} />}
            <BigButton onClick={save}>{t(draft.phantom ? "sore.save_phantom" : "sore.save")}</BigButton>
          </div>
          <LastRow saved={saved} last={own[0]} limb={limb} />
        </>
      }>
      <Troubles />
      <SideChoice screen="sore" side={limb.side} />
      {draft.phantom ? <Phantom /> : (
        <PlacePicker limb={limb} mode={mode} spot={draft.spot} onSpot={(spot) => set({ spot })} earlier={weeks ? [] : rings} notes={notes}
          heat={weeks ? heat : []} corner={heat.length > 0 && (
            <TextButton label={t(weeks ? "sore.rings_label" : "sore.weeks_label")} onClick={() => setWeeks(!weeks)}>{t(weeks ? "sore.rings" : "sore.weeks")}</TextButton>
          )}
          text={draft.score === null ? "" : String(draft.score)} ask={t(mode === "list" ? "sore.choose" : "sore.tap")} />
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

/**
 * What was just saved, and the way to take it back; before that, the last mark. The row is always there: were it to come
 * with the first tap on Save, the second of a double tap would land on it.
 */
function LastRow({ saved, last, limb }: { saved: string | null; last: EntryOf<"sore"> | undefined; limb: OwnLimb }) {
  const found = saved ? current(saved) : undefined;
  const entry = found?.kind === "sore" ? found : last;
  if (!entry) return <UndoRow said={t("sore.none_yet")} />;
  const where = entry.body.phantom ? t("sore.phantom_title") : placeName(limb.level, entry.body);
  const what = `${where}, ${entry.body.intensity}`;
  const words = { what, time: clock(entry.at, entry.zone), day: dayOf(entry) };
  const own = entry === found;
  const said = t(!own ? "sore.latest" : entry.erased ? "sore.undone" : "sore.saved", words);
  const turn = () => void (entry.erased ? restore(entry) : erase(entry)).catch(() => {});
  return (
    <div role="status">
      <UndoRow said={said} href={href("entry", entry.id)} label={t("sore.change", { said })}>
        {own && <TextButton onClick={turn}>{t(entry.erased ? "common.redo" : "common.undo")}</TextButton>}
      </UndoRow>
    </div>
  );
}
