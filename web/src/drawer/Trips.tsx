// Trips to pack for: those planned, and planning one.
import { useState } from "preact/hooks";
import { entries, erase, todayDate, write } from "../log/book";
import type { EntryOf } from "../log/kinds";
import { BigButton, TextButton } from "../parts/buttons";
import { Stepper } from "../parts/choices";
import { CheckRow, PickRow, Rows } from "../parts/rows";
import { longDay } from "../times";
import { t } from "../words";

export type Trip = EntryOf<"trip">;

/** Trips from today on, the next one first. */
export const planned = (): Trip[] =>
  entries.value.filter((e): e is Trip => e.kind === "trip" && e.body.date >= todayDate()).sort((a, b) => (a.body.date < b.body.date ? -1 : 1));

export function Trips({ chosen, choose }: { chosen: Trip | undefined; choose: (id: string) => void }) {
  const trips = planned();
  const [adding, setAdding] = useState(trips.length === 0);
  return (
    <section class="field">
      <h2>{t("socks.trips")}</h2>
      {trips.length > 0 && (
        <Rows label={t("socks.trips")}>
          {trips.map((trip) => (
            <PickRow key={trip.id} name="trip" checked={trip.id === chosen?.id} onPick={() => choose(trip.id)} small={said(trip)}
              side={<TextButton onClick={() => { erase(trip).catch(() => {}); }}>{t("socks.erase_trip")}</TextButton>}>
              {longDay(trip.body.date)}
            </PickRow>
          ))}
        </Rows>
      )}
      {adding ? <NewTrip done={(id) => { setAdding(false); choose(id); }} /> : <TextButton icon="plus" onClick={() => setAdding(true)}>{t("socks.trip_new")}</TextButton>}
    </section>
  );
}

const said = ({ body }: Trip): string => [t("common.hours", { n: body.hours }), body.water ? t("socks.water_day") : "", body.note ?? ""].filter(Boolean).join(", ");

function NewTrip({ done }: { done: (id: string) => void }) {
  const [date, setDate] = useState(todayDate());
  const [hours, setHours] = useState(8);
  const [water, setWater] = useState(false);
  const [problem, setProblem] = useState("");
  const save = () => {
    if (!date || date < todayDate()) return setProblem(t("socks.trip_past"));
    write("trip", null, { date, hours, water, note: "" }).then((trip) => done(trip.id), () => {});
  };
  return (
    <div class="field">
      <label class="label"><span>{t("socks.trip_date")}</span><input class="input" type="date" min={todayDate()} value={date} onInput={(e) => setDate(e.currentTarget.value)} /></label>
      <div class="field">
        <h3>{t("socks.trip_hours")}</h3>
        <Stepper label={t("socks.trip_hours")} value={hours} least={1} most={48} onChange={setHours} words={{ less: t("common.less"), more: t("common.more") }} />
      </div>
      <Rows><CheckRow checked={water} onChange={setWater}>{t("socks.trip_water")}</CheckRow></Rows>
      {problem && <p class="trouble said" role="alert">{problem}</p>}
      <BigButton onClick={save}>{t("common.save")}</BigButton>
    </div>
  );
}
