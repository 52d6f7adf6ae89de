// The first screen: how much is on, how that reads against the usual, and the buttons that change it.
import { fetchAgain, missing } from "../fetched";
import { settings, todayDate } from "../log/book";
import { TextButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { SyncState } from "../parts/SyncState";
import { setPrefs } from "../prefs";
import { beside } from "../today/besideLater";
import { Level } from "../today/Level";
import { now, wornNow } from "../today/now";
import { shownNow } from "../today/outside";
import { TouchZone } from "../today/TouchZone";
import type { Worn } from "../today/wear";
import { clock, longDay, onDay, span } from "../moments";
import { t } from "../words";

export function Today() {
  const profile = settings.value;
  const { own, limb, counted, fit } = shownNow();
  const state = wornNow(limb);
  const aside = beside.value;
  const head = <Top worn={state} dayStarts={profile.day_starts} />;
  // Steps of dials and pumps have their words there; ply never waits.
  if (!aside && (counted.some((one) => one !== "ply") || state.last?.kind === "adjust")) return <Page title={t("today.title")} head={head}><Missing /></Page>;
  return (
    <Page title={t("today.title")} head={head}
      touch={<TouchZone limb={limb} fit={fit} worn={state} />}>
      {aside && <aside.Troubles />}
      <Missing />
      {aside && <aside.SignsNow />}
      {aside && <aside.SkinAsk own={own} />}
      {aside && own.length > 1 && (
        <aside.Segment label={t("common.side")} value={limb} onPick={(side) => setPrefs({ side })}
          options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }]} />
      )}
      {aside && counted.length > 1 && (
        <aside.Segment label={t("today.fit")} value={fit} onPick={(next) => setPrefs({ fit: next })}
          options={counted.map((one) => ({ value: one, label: t(one === "ply" ? "today.what_ply" : `today.${one}`) }))} />
      )}
      <Level limb={limb} fit={fit} counted={counted} worn={state} />
      {aside && <aside.Welcome />}
      {aside && <aside.TodayFigure limb={limb} fit={fit} worn={state} />}
    </Page>
  );
}

/** What to do where a part of the page could not be fetched. */
const Missing = () => missing.value && (
  <div class="trouble said" role="alert">
    <p>{t("common.failed")}</p>
    <TextButton onClick={() => void fetchAgain()}>{t("common.again")}</TextButton>
  </div>
);

/** Day and since when at the left, the state of saving and sending at the right. */
function Top({ worn, dayStarts }: { worn: Worn; dayStarts: number }) {
  return (
    <header class="top">
      <div class="when"><h1 tabIndex={-1}>{longDay(todayDate())}</h1><span class="quiet small">{since(worn, dayStarts)}</span></div>
      <SyncState />
    </header>
  );
}

function since(worn: Worn, dayStarts: number): string {
  if (worn.on) {
    const begun = worn.today[0]?.begun ?? worn.on.since;
    const words = { time: clock(begun), span: span(now.value - begun) };
    if (begun !== worn.on.since) return t("today.first_on", words);
    return now.value - begun < 3600e3 ? t("today.on_since_new", words) : t("today.on_since", words);
  }
  if (worn.offSince !== null) return t("today.off_since", { time: clock(worn.offSince) });
  if (worn.openDay) return t("today.open_day", { day: onDay(worn.openDay, dayStarts) });
  return t("today.none_today");
}
