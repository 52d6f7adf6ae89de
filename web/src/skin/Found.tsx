// One finding: where it is, and the few questions that matter for it.
import { useState } from "preact/hooks";
import { placeName, type OwnLimb } from "../limb/names";
import { entries, settings } from "../log/book";
import { localDay } from "../log/clock";
import type { Finding } from "../log/kinds";
import { nowForAt } from "../log/offset";
import { TextButton } from "../parts/buttons";
import { Segment, Stepper } from "../parts/choices";
import { Icon } from "../parts/Icon";
import { PlacePicker, type Mode } from "../parts/PlacePicker";
import { CheckRow, Row, Rows } from "../parts/rows";
import { fadeLimit, overLimit } from "../signs/rules";
import { clock, number, onDay, plainDay } from "../times";
import { t } from "../words";
import { beforeAt, earlierPlaces, placed, rowOf } from "./check";
import { gone, goneLate, stillThere } from "./due";
import { minutesSince, type Timer } from "./timer";

type Props = { finding: Finding; limb: OwnLimb; timer: Timer; entryId: string | null; onChange: (to: Partial<Finding>) => void; onRemove: () => void };

const SIZED: readonly Finding["what"][] = ["blister", "broken_blister", "open", "purple", "black"];
const PRESSED: readonly Finding["what"][] = ["redness", "hot", "rash"];
const SIZES = [8, 15, 30] as const;

export function Found({ finding, limb, timer, entryId, onChange, onRemove }: Props) {
  const { what } = finding;
  return (
    <section class="found" aria-label={t(`skin.${what}`)}>
      <Rows>
        <CheckRow checked onChange={onRemove}><b>{t(`skin.${rowOf(what)}`)}</b></CheckRow>
        <Where finding={finding} limb={limb} entryId={entryId} onChange={onChange} />
      </Rows>
      {what === "redness" && <Fade finding={finding} timer={timer} onChange={onChange} />}
      {rowOf(what) === "blister" && (
        <Asked question={t("skin.whole")} value={what} onPick={(next) => onChange({ what: next })}
          options={[{ value: "blister", label: t("skin.is_whole") }, { value: "broken_blister", label: t("skin.is_burst") }]} />
      )}
      {PRESSED.includes(what) && (
        <Asked question={t("skin.pale")} more={t("skin.pale_more")} value={PALE(finding)} onPick={(next) => onChange({ blanches: { yes: true, no: false, unsure: null }[next] })}
          options={[{ value: "yes", label: t("skin.pales") }, { value: "no", label: t("skin.stays") }, { value: "unsure", label: t("skin.cannot_tell") }]} />
      )}
      {SIZED.includes(what) && (
        <Asked question={t("skin.size")} value={finding.size_mm ? String(finding.size_mm) : null} onPick={(mm) => onChange({ size_mm: Number(mm) })}
          options={SIZES.map((mm) => ({ value: String(mm), label: t(`skin.size_${mm}`) }))} />
      )}
    </section>
  );
}

const PALE = ({ blanches }: Finding) => (blanches === true ? "yes" : blanches === false ? "no" : null);

type AskedProps<V extends string> = { question: string; more?: string; value: V | null; onPick: (value: V) => void; options: { value: V; label: string }[] };

const Asked = <V extends string>({ question, more, ...rest }: AskedProps<V>) => (
  <div class="field"><p class="question"><span>{question}</span></p>{more && <p class="small quiet">{more}</p>}<Segment label={question} {...rest} /></div>
);

function Where({ finding, limb, entryId, onChange }: Pick<Props, "finding" | "limb" | "entryId" | "onChange">) {
  const [open, setOpen] = useState(false);
  const [mode, setMode] = useState<Mode>("drawing");
  const spot = placed(finding);
  const before = spot && beforeAt(entries.value, limb, spot, entryId);
  const day = before && (before.what === "sore" ? onDay : plainDay)(localDay(before.at, before.zone, settings.value.day_starts), settings.value.day_starts);
  return (
    <>
      <Row onClick={() => setOpen(!open)} expanded={open} side={<Icon name={open ? "minus" : "next"} />}
        small={<>
          {spot ? placeName(limb.level, spot) : t("skin.no_place")}
          {before && <strong class="before">{before.what === "sore" ? t("skin.same_sore", { day: day! }) : t("skin.same_place", { day: day!, what: t(`skin.${before.what}`).toLowerCase() })}</strong>}
        </>}>
        {t("skin.where")}
      </Row>
      {open && (
        <li class="picking">
          <Segment label={t("limb.show_as")} value={mode} onPick={setMode}
            options={[{ value: "drawing", label: t("limb.drawing") }, { value: "list", label: t("limb.list") }]} />
          <PlacePicker limb={limb} mode={mode} spot={spot} onSpot={(at) => onChange(at)} ask={t(mode === "list" ? "skin.where_choose" : "skin.where_tap")}
            earlier={earlierPlaces(entries.value, limb, entryId).map((at) => ({ spot: at }))} />
          {spot && <TextButton onClick={() => onChange({ height: null, angle: null })}>{t("skin.clear_place")}</TextButton>}
        </li>
      )}
    </>
  );
}

function Fade({ finding, timer, onChange }: Pick<Props, "finding" | "timer" | "onChange">) {
  const limit = fadeLimit(settings.value);
  const minutes = finding.fade_min ?? null;
  const [waits, setWaits] = useState(false); // "still there" before the limit is not yet anything to enter
  const late = timer.state === "due"; // from here on the clock no longer tells whether it went in time: the wearer does
  const value = typeof minutes === "number" ? (late && minutes <= limit ? "in_time" : "gone") : finding.still_red || waits ? "still" : null;
  const pick = (next: "in_time" | "gone" | "still") => {
    setWaits(next === "still");
    const since = minutesSince(timer, nowForAt()) ?? limit;
    onChange(next === "still" ? stillThere(timer) : next === "in_time" ? gone(Math.floor(limit)) : late ? goneLate(since, limit) : gone(since));
  };
  const pending = waits && !finding.still_red && minutes === null;
  return (
    <div class="field">
      <p class="question"><span>{t(timer.state === "due" && value === null ? "skin.due" : "skin.faded")}</span></p>
      <Segment label={t("skin.faded")} value={value} onPick={pick} options={[
        ...(late ? [{ value: "in_time" as const, label: t("skin.in_time") }] : []), { value: "gone", label: t(late ? "skin.gone_late" : "skin.gone") }, { value: "still", label: t("skin.still") },
      ]} />
      {typeof minutes === "number" && (
        <Stepper label={t("skin.gone_after")} value={minutes} least={0} most={240} unit={t("skin.min")} words={{ less: t("skin.min_less"), more: t("skin.min_more") }}
          onChange={(next) => onChange(gone(next))} />
      )}
      <p class="small" role="status">
        {finding.still_red || (minutes !== null && overLimit(minutes, settings.value)) ? <b>{t("skin.over", { limit: number(limit) })}</b>
          : pending && timer.state === "waiting" ? t("skin.too_early", { limit: number(limit), time: clock(timer.until) })
          : t("skin.within", { limit: number(limit) })}
      </p>
    </div>
  );
}
