// Third page: the clinic's numbers, and what this is and is not.
import type { ComponentChildren } from "preact";
import { PLY_MAX } from "../../log/kinds";
import { Stepper } from "../../parts/choices";
import { t } from "../../words";

export type ClinicDraft = { clinic_phone: string; emergency_phone: string; ply_ceiling: number };

export function ClinicPage({ draft, onChange }: { draft: ClinicDraft; onChange: (draft: ClinicDraft) => void }) {
  const keep = ({ clinic_phone, emergency_phone, ply_ceiling }: ClinicDraft, change: Partial<ClinicDraft>) => onChange({ clinic_phone, emergency_phone, ply_ceiling, ...change });
  return (
    <>
      <p class="quiet">{t("first.clinic_hint")}</p>
      <Field name={t("first.clinic_phone")}>
        <input class="input" type="tel" maxLength={60} autocomplete="off" value={draft.clinic_phone} onInput={(e) => keep(draft, { clinic_phone: e.currentTarget.value })} />
      </Field>
      <Field name={t("first.emergency_phone")}>
        <input class="input" type="tel" maxLength={60} autocomplete="off" value={draft.emergency_phone} onInput={(e) => keep(draft, { emergency_phone: e.currentTarget.value })} />
      </Field>
      <section class="field">
        <h2 class="question">{t("first.ceiling")}</h2>
        <p class="small quiet">{t("first.ceiling_hint")}</p>
        <Stepper label={t("first.ceiling")} value={draft.ply_ceiling} least={1} most={PLY_MAX} onChange={(ply_ceiling) => keep(draft, { ply_ceiling })}
          unit={t("settings.ply_unit")} words={{ less: t("common.less"), more: t("common.more") }} />
      </section>
      <section class="card prose">
        <h2>{t("first.what_title")}</h2>
        <p>{t("first.what_is")}</p>
        <p>{t("first.what_not")}</p>
      </section>
    </>
  );
}

const Field = ({ name, children }: { name: string; children: ComponentChildren }) => <label class="label"><span>{name}</span>{children}</label>;
