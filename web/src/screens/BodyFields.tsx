// The parts of an entry's body that can be put right by hand. Kinds with a screen of their own are changed there.
import type { Entry, PlyBody } from "../log/kinds";
import { PLY_MAX, TEXT_MAX } from "../log/kinds";
import { settings } from "../log/book";
import { Chips, Score, Stepper } from "../parts/choices";
import { BigButton } from "../parts/buttons";
import { stepWords } from "../today/saying";
import { t } from "../words";

type Props = { entry: Entry; body: Entry["body"]; onChange: (body: Entry["body"]) => void };

const WHY: readonly NonNullable<PlyBody["why"]>[] = ["loose", "end_pressure", "tight", "cannot_seat", "planned", "hot", "rest", "other"];

export function BodyFields({ entry, body, onChange }: Props) {
  const set = (change: object) => onChange({ ...body, ...change } as Entry["body"]);
  const now = { ...entry, body } as Entry;
  switch (now.kind) {
    case "ply":
      return (
        <>
          <Total total={now.body.total} onChange={(total) => set({ total })} />
          <div class="field">
            <h2>{t("entry.why")}</h2>
            <Chips label={t("entry.why")} chosen={now.body.why ? [now.body.why] : []} onToggle={(why) => set({ why: why === now.body.why ? null : why })}
              options={WHY.map((why) => ({ value: why, label: t(`today.why_${why}`) }))} />
          </div>
        </>
      );
    case "don": {
      const { total, clicks } = now.body;
      const pin = settings.value.limbs.some((limb) => limb.side === entry.limb && limb.suspension?.includes("pin_lock"));
      return (
        <>
          {total == null ? <BigButton out onClick={() => set({ total: 0 })} small={t("entry.total_none")}>{t("entry.add_total")}</BigButton> : <Total total={total} onChange={(n) => set({ total: n })} />}
          {(pin || clicks != null) && (
            <div class="field">
              <h2>{t("entry.clicks")}</h2>
              <Stepper label={t("entry.clicks")} value={clicks ?? 0} least={0} most={60} words={moreLess} onChange={(n) => set({ clicks: n })} />
            </div>
          )}
        </>
      );
    }
    case "adjust": {
      const { what, by, reading } = now.body;
      if (by == null && reading != null) return null;
      return (
        <div class="field">
          <h2>{t("entry.by")}</h2>
          <Stepper label={t("entry.by")} value={by ?? 0} least={-99} most={99} onChange={(n) => set({ by: n })}
            unit={stepWords(what, (by ?? 0) < 0 ? "less" : "more", Math.abs(by ?? 0))} words={{ less: stepWords(what, "less", 1), more: stepWords(what, "more", 1) }} />
        </div>
      );
    }
    case "sore":
      return <Score label={t("entry.intensity")} hint={t("entry.intensity_hint")} value={now.body.intensity} onPick={(intensity) => set({ intensity })} />;
    case "comfort":
      return <Score label={t("entry.score")} hint={t("entry.score_hint")} value={now.body.score} onPick={(score) => set({ score })} />;
    case "note":
      return <Words value={now.body.text} onChange={(text) => set({ text })} />;
    case "mishap":
    case "change":
      return <Words value={now.body.note ?? ""} onChange={(note) => set({ note })} />;
    default:
      return null;
  }
}

const moreLess = { get less() { return t("common.less"); }, get more() { return t("common.more"); } };

const Total = ({ total, onChange }: { total: number; onChange: (total: number) => void }) => (
  <div class="field">
    <h2>{t("entry.total")}</h2>
    <Stepper label={t("entry.total")} value={total} least={0} most={PLY_MAX} onChange={onChange}
      unit={t("entry.ply_unit")} words={{ less: t("today.ply_off"), more: t("today.ply_on") }} />
  </div>
);

const Words = ({ value, onChange }: { value: string; onChange: (value: string) => void }) => (
  <label class="label">
    <span>{t("entry.note")}</span>
    <textarea class="input" maxLength={TEXT_MAX} value={value} onInput={(e) => onChange(e.currentTarget.value)} />
  </label>
);
