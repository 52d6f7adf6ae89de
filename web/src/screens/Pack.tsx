// Pack: the smallest set of socks that makes every total from now to the forecast's upper end, within the layer limit.
import { useState } from "preact/hooks";
import { entries, settings, summary, todayDate } from "../log/book";
import { isSilent, type Forecast, type LimbSummary } from "../log/summary";
import { freeSocks, nameOf, pick } from "../drawer/owned";
import { PackFigure } from "../drawer/PackFigure";
import { carry, stacks, supply } from "../drawer/stacks";
import { planned, Trips } from "../drawer/Trips";
import { BigButton } from "../parts/buttons";
import { Segment } from "../parts/choices";
import { href } from "../nav";
import { Page } from "../parts/Page";
import { CheckRow, Rows } from "../parts/rows";
import { Swatch } from "../parts/Swatch";
import { WaysOn } from "../parts/WaysOn";
import { now } from "../today/now";
import { plies, type Owned } from "../today/stack";
import { shownNow } from "../today/outside";
import { worn } from "../today/wear";
import { inRow } from "../times";
import { said, t } from "../words";

type When = "today" | "tomorrow" | "trip";

export function Pack() {
  const [when, setWhen] = useState<When>("today");
  const [tripId, setTripId] = useState<string | null>(null);
  const [packed, setPacked] = useState<readonly string[]>([]);
  const { limb } = shownNow();
  const trips = planned();
  const trip = when === "trip" ? (trips.find((one) => one.id === tripId) ?? trips[0]) : undefined;
  const bag = fill(when, limb, summary.value?.limbs[limb]);
  const wet = trip?.body.water ?? false;
  const { covered, usual, high, base, load, forecast, why } = bag;
  return (
    <Page title={t("socks.pack")} back={{ href: "#/today", name: t("common.today") }} touch={<WaysOn current="pack" />}>
      <Segment<When> label={t("socks.pack_for")} value={when} onPick={setWhen}
        options={(["today", "tomorrow", "trip"] as const).map((one) => ({ value: one, label: t(`socks.${one}`) }))} />
      {when === "trip" && <Trips chosen={trip} choose={setTripId} />}
      {bag.none && <><p>{t("socks.none")}</p><BigButton out href={href("socks")}>{t("socks.add")}</BigButton></>}
      {(when !== "trip" || trip) && !bag.none && (
        <>
          <p class="say">
            {forecast === null && <>{t("socks.no_forecast", { why })} </>}
            {high <= base ? t("socks.no_more") : load.missing.length === 0 ? <b>{t("socks.covers_all", { n: high })}</b>
              : <><b>{t("socks.short", { list: inRow(runs(load.missing)) })}</b> {covered > base && t("socks.covers_to", { n: covered })} {bag.washHelps && t("socks.wash_helps")}</>}
          </p>
          <PackFigure base={base} onNow={bag.onNow} carried={load.socks} covered={covered} usual={usual} high={high} ceiling={settings.value.ply_ceiling} forecast={forecast !== null} />
          <section class="field">
            <h2>{t("socks.take")}</h2>
            {bag.socks.length === 0 && <p class="quiet">{t("socks.take_none")}</p>}
            <Rows label={t("socks.take")}>
              {bag.socks.map((sock, i) => <Item key={`${sock.id} ${i}`} at={`${when} ${i}`} sock={sock} small={t("socks.ready_small")} packed={packed} setPacked={setPacked} />)}
              {(wet ? bag.spare : []).map((sock, i) => <Item key={`spare ${i}`} at={`spare ${i}`} sock={sock} small={t("socks.spare")} packed={packed} setPacked={setPacked} />)}
            </Rows>
          </section>
          {forecast && <p class="small quiet">{t(forecast.grade === "rough" ? "socks.rests_rough" : "socks.rests", { n: forecast.basis_days })}</p>}
          {when === "trip" && <p class="small quiet">{t("socks.trip_rests")}</p>}
        </>
      )}
    </Page>
  );
}

/** 9 and 11 as they are, 9, 10 and 11 as 9–11. */
function runs(totals: readonly number[]): string[] {
  const starts = totals.filter((n) => !totals.includes(n - 1));
  return starts.flatMap((from) => {
    let to = from;
    while (totals.includes(to + 1)) to++;
    return to - from > 1 ? [`${from}–${to}`] : Array.from({ length: to - from + 1 }, (_, i) => String(from + i));
  });
}

type ItemProps = { at: string; sock: Owned; small: string; packed: readonly string[]; setPacked: (packed: readonly string[]) => void };

const Item = ({ at, sock, small, packed, setPacked }: ItemProps) => (
  <CheckRow checked={packed.includes(at)} onChange={(on) => setPacked(on ? [...packed, at] : packed.filter((one) => one !== at))}
    small={[sock.mark, small].filter(Boolean).join(", ")} side={<Swatch ply={sock.ply} />}>
    {nameOf(sock, t("common.ply", { n: sock.ply }))}
  </CheckRow>
);

/** What goes into the bag, and what it rests on. */
function fill(when: When, limb: "left" | "right", read: LimbSummary | undefined) {
  const { day_starts, layers_max, limbs, ply_ceiling } = settings.value;
  const state = worn(entries.value, limb, now.value, day_starts);
  const now_ = when === "today" ? (state.on ?? state.next) : state.next ?? state.on;
  const base = now_?.total ?? 0;
  const { forecast, why } = ahead(when, read);
  const usual = Math.max(base, forecast ? forecast.peak["p75"]! : base);
  const high = Math.max(base, forecast ? forecast.peak["p95"]! : ply_ceiling);
  const profile = limbs.find((one) => one.side === limb);
  const { socks, free } = freeSocks(entries.value, now_?.socks ?? [], profile);
  const named = now_?.socks ? plies(now_.socks, socks) : null;
  const on = named ?? (base > 0 ? [base] : []); // a stack nobody named is one sock of its total: it can be added to
  const targets = Array.from({ length: high - base }, (_, i) => base + 1 + i);
  const load = carry(on, supply(free.map((sock) => sock.ply)), targets, layers_max);
  const washed = freeSocks(entries.value, now_?.socks ?? [], profile, ["ready", "wash"]).free;
  const covered = targets.find((target) => load.missing.includes(target));
  const taken = pick(load.socks, free);
  const left = [...free];
  for (const sock of taken) left.splice(left.indexOf(sock), 1);
  return {
    none: socks.size === 0,
    base, usual, high, load, forecast, why, onNow: when === "today" && state.on !== null,
    covered: covered === undefined ? high : covered - 1,
    socks: taken,
    spare: pick(stacks(base, supply(left.map((sock) => sock.ply)), layers_max)[0] ?? [], left),
    washHelps: load.missing.length > 0 && carry(on, supply(washed.map((sock) => sock.ply)), targets, layers_max).missing.length < load.missing.length,
  };
}

/** The forecast for that day: the rest of today, or tomorrow's, which also stands for a trip. */
function ahead(when: When, read: LimbSummary | undefined): { forecast: Forecast | null; why: string } {
  if (!read) return { forecast: null, why: t("socks.no_reading") };
  const part = when === "today" && !isSilent(read.forecast) && read.forecast.date === todayDate() ? read.forecast : read.tomorrow;
  return isSilent(part) ? { forecast: null, why: said(part.reason) } : { forecast: part, why: "" };
}
