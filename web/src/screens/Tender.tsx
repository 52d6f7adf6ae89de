// Tender places and reliefs: part of the limb's profile, marked by the wearer, shown on every picture of the limb.
import { useId, useState } from "preact/hooks";
import type { Spot } from "../limb/geometry";
import { ownLimb, placeName } from "../limb/names";
import { settings } from "../log/book";
import type { TenderPlace } from "../log/kinds";
import { href, type ScreenProps } from "../nav";
import { BigButton, TextButton, UndoRow } from "../parts/buttons";
import { Segment } from "../parts/choices";
import { Page } from "../parts/Page";
import { PlacePicker, type Mode } from "../parts/PlacePicker";
import { Row, Rows } from "../parts/rows";
import { SideChoice, sideOf } from "../parts/sides";
import { Troubles } from "../parts/Troubles";
import { WaysOn } from "../parts/WaysOn";
import { setProfile } from "../profile";
import { t } from "../words";

const MOST = 50; // what the entry model takes

export function Tender({ at }: ScreenProps) {
  const limb = ownLimb(sideOf(at[0]));
  const [mode, setMode] = useState<Mode>("drawing");
  const [spot, setSpot] = useState<Spot | null>(null);
  const [relief, setRelief] = useState(false);
  const [name, setName] = useState("");
  const [missing, setMissing] = useState<"need_place" | "need_choice" | "full" | null>(null);
  const field = useId();
  const known = settings.value.limbs.some((one) => one.side === limb.side);

  const [last, setLast] = useState<Last | null>(null);

  const keep = (tender: readonly TenderPlace[]) =>
    setProfile({ limbs: settings.value.limbs.map((one) => (one.side === limb.side ? { ...one, tender: [...tender] } : one)) });
  const put = (place: TenderPlace, at: number) => { keep([...limb.tender.slice(0, at), place, ...limb.tender.slice(at)]); setLast({ place, at, there: true }); };
  const take = (place: TenderPlace, at: number) => { keep(limb.tender.filter((other) => other !== place)); setLast({ place, at, there: false }); };
  const add = () => {
    if (limb.tender.length >= MOST) return setMissing("full");
    if (!spot) return setMissing(mode === "list" ? "need_choice" : "need_place");
    put({ ...spot, name: name.trim() || (relief ? t("tender.relief") : "") }, limb.tender.length);
    setSpot(null);
    setName("");
    setMissing(null);
  };
  const said = (place: TenderPlace) => [placeName(limb.level, place), place.name].filter(Boolean).join(", ");

  return (
    <Page title={t("tender.title")} back={{ href: "#/more", name: t("today.more") }}
      side={known && (
        <Segment snug label={t("limb.show_as")} value={mode} onPick={setMode}
          options={[{ value: "drawing", label: t("limb.drawing") }, { value: "list", label: t("limb.list") }]} />
      )}
      touch={known ? (
        <>
          {missing && <p role="alert" class="missing">{t(`tender.${missing}`)}</p>}
          <BigButton onClick={add}>{t("tender.add")}</BigButton>
          {last && <LastRow last={last} said={said(last.place)} onTurn={() => {
            const there = limb.tender.find((other) => alike(other, last.place));
            if (there) take(there, last.at);
            else put(last.place, last.at);
          }} />}
        </>
      ) : <WaysOn current="tender" />}>
      <Troubles />
      <SideChoice screen="tender" side={limb.side} />
      {!known && <><p>{t("tender.no_leg")}</p><BigButton href={href("first")}>{t("tender.leg")}</BigButton></>}
      {known && (
        <>
          <PlacePicker limb={limb} mode={mode} spot={spot} onSpot={(to) => { setSpot(to); setMissing(null); }} ask={t(mode === "list" ? "tender.choose" : "tender.tap")} />
          <Segment label={t("tender.kind")} value={relief ? "relief" : "place"} onPick={(kind) => setRelief(kind === "relief")}
            options={[{ value: "place", label: t("tender.place") }, { value: "relief", label: t("tender.relief") }]} />
          <div class="label">
            <label for={field}><b>{t("tender.name")}</b></label>
            <input id={field} class="input" type="text" autocomplete="off" maxLength={120} value={name} aria-describedby={`${field}-hint`} onInput={(e) => setName(e.currentTarget.value)} />
            <span id={`${field}-hint`} class="small quiet">{t("tender.name_hint")}</span>
          </div>
          <section class="field">
            <h2>{t("tender.marked")}</h2>
            {limb.tender.length === 0 && <p class="quiet">{t("tender.none")}</p>}
            <Rows>
              {limb.tender.map((place, i) => (
                <Row key={`${place.height} ${place.angle} ${i}`} small={place.name}
                  side={<TextButton label={t("tender.remove_of", { what: said(place) })} onClick={() => take(place, i)}>{t("tender.remove")}</TextButton>}>
                  {placeName(limb.level, place)}
                </Row>
              ))}
            </Rows>
          </section>
        </>
      )}
      <p class="small quiet">{t("tender.what")}</p>
    </Page>
  );
}

/** The place last marked or taken out, where in the list it was, and whether it is there now. */
type Last = { place: TenderPlace; at: number; there: boolean };

const alike = (a: TenderPlace, b: TenderPlace) => a.height === b.height && a.angle === b.angle && a.name === b.name;

/** What was just done, and the way to take it back, as on every screen. */
const LastRow = ({ last, said, onTurn }: { last: Last; said: string; onTurn: () => void }) => (
  <div role="status" data-passing>
    <UndoRow said={t(last.there ? "tender.done" : "tender.taken", { what: said })}>
      <TextButton onClick={onTurn}>{t("common.undo")}</TextButton>
    </UndoRow>
  </div>
);
