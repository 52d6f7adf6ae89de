// Set up in under a minute: leg; fit and socks; clinic. Each page saves what was said on it and may be skipped; each can
// be opened again later, at #/first/1 to #/first/3.
import { useState } from "preact/hooks";
import { amend, entries, profile, settings, write } from "../log/book";
import { LIMB_KINDS, type EntryOf, type Kind, type Limb, type LimbProfile } from "../log/kinds";
import { go, href, type ScreenProps } from "../nav";
import { BigButton, TextButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { setPrefs } from "../prefs";
import { setProfile } from "../profile";
import { t } from "../words";
import { ClinicPage, type ClinicDraft } from "./first/ClinicPage";
import { FitPage, ownedCounts, type FitDraft } from "./first/FitPage";
import { LegPage, type LegDraft } from "./first/LegPage";

const TITLES = { 1: "first.leg_title", 2: "first.fit_title", 3: "first.clinic_title" } as const;

export function FirstRun({ at: [step] }: ScreenProps) {
  const n = step === "2" ? 2 : step === "3" ? 3 : 1;
  const [leg, setLeg] = useState<LegDraft>(() => legNow());
  const [fit, setFit] = useState<FitDraft>(() => ({ fitted_by: settings.value.limbs[0]?.fitted_by ?? ["socks"], counts: ownedCounts(entries.value) }));
  const [clinic, setClinic] = useState<ClinicDraft>(() => ({ ...settings.value }));
  const onward = () => go(n === 3 ? "#/today" : href("first", String(n + 1)));
  const keep = () => {
    if (n === 1) keepLeg(leg);
    else if (n === 2) keepFit(fit);
    else setProfile(clinic);
    onward();
  };
  return (
    <Page title={t(TITLES[n])} side={t("first.step", { n })} {...(n > 1 ? { back: { href: href("first", String(n - 1)), name: t(TITLES[(n - 1) as 1 | 2]) } } : { back: { href: "#/today", name: t("common.today") } })}
      touch={
        <>
          <BigButton tall onClick={keep}>{t(n === 1 ? "first.next_socks" : n === 2 ? "first.next_clinic" : "first.start")}</BigButton>
          <div class="skip"><span>{t("first.stays")}</span><TextButton onClick={onward}>{t("first.skip")}</TextButton></div>
        </>
      }>
      {n === 1 && <LegPage draft={leg} onChange={setLeg} />}
      {n === 2 && <FitPage draft={fit} onChange={setFit} />}
      {n === 3 && <ClinicPage draft={clinic} onChange={setClinic} />}
    </Page>
  );
}

function legNow(): LegDraft {
  const limbs = settings.value.limbs;
  const levels: LegDraft["levels"] = {};
  for (const limb of limbs) levels[limb.side] = limb.level;
  return { sides: limbs.map((limb) => limb.side), levels, suspension: limbs[0]?.suspension ?? [] };
}

/** A limb is kept once its side and level are said; the side alone is kept as the one Today shows. */
function keepLeg({ sides, levels, suspension }: LegDraft): void {
  if (sides.length === 0) return;
  if (sides.length === 1) setPrefs({ side: sides[0]! });
  const before = settings.value.limbs;
  const limbs = sides.flatMap((side): LimbProfile[] => {
    const level = levels[side];
    return level ? [{ ...before.find((limb) => limb.side === side), side, level, suspension }] : [];
  });
  if (limbs.length === 0) return;
  const first = !profile.value?.body.limbs?.length;
  setProfile({ limbs });
  if (first && limbs.length === 1) fileUnder(limbs[0]!.side);
}

/** What was logged before anyone said which leg belongs to the only one there is. */
function fileUnder(side: Limb): void {
  for (const entry of entries.value)
    if (LIMB_KINDS.has(entry.kind) && entry.limb !== side) amend(entry as EntryOf<Kind>, { limb: side }).catch(() => {});
}

function keepFit({ fitted_by, counts }: FitDraft): void {
  const { limbs } = settings.value;
  if (limbs.length) setProfile({ limbs: limbs.map((limb) => ({ ...limb, fitted_by })) });
  if (!fitted_by.includes("socks")) return;
  const before = ownedCounts(entries.value);
  for (const [ply, count] of counts) {
    if (count === (before.get(ply) ?? 0)) continue;
    const owned = entries.value.find((e) => e.kind === "sock" && e.body.ply === ply && !e.body.mark) as EntryOf<"sock"> | undefined;
    const saved = owned ? amend(owned, { body: { ...owned.body, count } }) : write("sock", null, { name: t("first.sock_of", { n: ply }), ply, count });
    saved.catch(() => {});
  }
}
