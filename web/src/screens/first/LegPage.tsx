// First page: which side, where the limb ends, how the socket holds on.
import type { Limb, LimbProfile } from "../../log/kinds";
import { Chips, Segment } from "../../parts/choices";
import { Icon } from "../../parts/Icon";
import { LegFigure } from "../../parts/LegFigure";
import { t } from "../../words";

type Level = LimbProfile["level"];
type Suspension = NonNullable<LimbProfile["suspension"]>[number];
export type LegDraft = { sides: Limb[]; levels: Partial<Record<Limb, Level>>; suspension: Suspension[] };

const LEVELS: readonly Level[] = ["transtibial", "knee_disarticulation", "transfemoral"];
const HOLDS: readonly Suspension[] = ["pin_lock", "seal_liner", "suction_valve", "vacuum_pump", "sleeve", "lanyard", "straps"];

export function LegPage({ draft, onChange }: { draft: LegDraft; onChange: (draft: LegDraft) => void }) {
  const side = draft.sides.length === 2 ? "both" : draft.sides[0] ?? null;
  const two = draft.sides.length === 2;
  return (
    <>
      <section class="field">
        <h2 class="question">{t("first.which_side")}</h2>
        <Segment label={t("first.which_side")} value={side} onPick={(to) => onChange({ ...draft, sides: to === "both" ? ["left", "right"] : [to] })}
          options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }, { value: "both", label: t("first.both") }]} />
      </section>
      {(draft.sides.length ? draft.sides : (["right"] as Limb[])).map((one) => (
        <Ends key={one} side={one} named={two} level={draft.levels[one] ?? null}
          onPick={(level) => onChange({ ...draft, sides: draft.sides, levels: { ...draft.levels, [one]: level, ...(draft.sides.length ? {} : { left: level, right: level }) } })} />
      ))}
      <section class="field">
        <h2 class="question">{t("first.holds")}</h2>
        <Chips label={t("first.holds")} chosen={draft.suspension} options={HOLDS.map((value) => ({ value, label: t(`first.${value}`) }))}
          onToggle={(one) => onChange({ ...draft, suspension: draft.suspension.includes(one) ? draft.suspension.filter((s) => s !== one) : [...draft.suspension, one] })} />
      </section>
    </>
  );
}

type EndsProps = { side: Limb; named: boolean; level: Level | null; onPick: (level: Level) => void };

function Ends({ side, named, level, onPick }: EndsProps) {
  const question = named ? t("first.where_ends_of", { side: t(`common.${side}`).toLowerCase() }) : t("first.where_ends");
  return (
    <section class="field">
      <h2 class="question">{question}</h2>
      <div class="pick" role="radiogroup" aria-label={question}>
        {LEVELS.map((one) => (
          <label key={one}>
            <input type="radio" name={`level-${side}`} checked={one === level} onChange={() => onPick(one)} />
            <LegFigure level={one} side={side} /><span>{t(`first.${one}`)}</span>{one === level && <span class="ok"><Icon name="check" /></span>}
          </label>
        ))}
      </div>
    </section>
  );
}
