// Second page: how room is taken up in the socket, and which socks are owned.
import type { Entry, LimbProfile } from "../../log/kinds";
import { Chips, Stepper } from "../../parts/choices";
import { t } from "../../words";

type Fitting = NonNullable<LimbProfile["fitted_by"]>[number];
export type FitDraft = { fitted_by: Fitting[]; counts: ReadonlyMap<number, number> };

const FITTINGS: readonly Fitting[] = ["socks", "dial", "strap", "vacuum", "air_bladder", "pads"];
const USUAL_PLIES = [1, 2, 3, 5, 6]; // the thicknesses leaflets speak of
const MOST = 30;

/** How many socks of each thickness are owned, among those without a label of their own. */
export function ownedCounts(entries: readonly Entry[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { kind, body } of entries) if (kind === "sock" && !body.mark) counts.set(body.ply, (counts.get(body.ply) ?? 0) + (body.count ?? 1));
  return counts;
}

export function FitPage({ draft, onChange }: { draft: FitDraft; onChange: (draft: FitDraft) => void }) {
  const { fitted_by, counts } = draft;
  const toggle = (one: Fitting) => onChange({ ...draft, fitted_by: fitted_by.includes(one) ? fitted_by.filter((f) => f !== one) : FITTINGS.filter((f) => f === one || fitted_by.includes(f)) });
  const set = (ply: number, count: number) => onChange({ ...draft, counts: new Map(counts).set(ply, count) });
  return (
    <>
      <section class="field">
        <h2 class="question">{t("first.fitted_by")}</h2>
        <Chips label={t("first.fitted_by")} chosen={fitted_by} onToggle={toggle} options={FITTINGS.map((value) => ({ value, label: t(`first.${value}`) }))} />
      </section>
      {fitted_by.includes("socks") && (
        <section class="field">
          <h2 class="question">{t("first.socks_owned")}</h2>
          <p class="small quiet">{t("first.socks_hint")}</p>
          <ul class="counts">
            {[...new Set([...USUAL_PLIES, ...counts.keys()])].sort((a, b) => a - b).map((ply) => (
              <li key={ply}>
                <b>{t("first.sock_of", { n: ply })}</b>
                <Stepper label={t("first.sock_of", { n: ply })} value={counts.get(ply) ?? 0} least={0} most={MOST} onChange={(n) => set(ply, n)}
                  words={{ less: t("first.one_less", { n: ply }), more: t("first.one_more", { n: ply }) }} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
