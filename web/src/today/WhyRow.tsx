// After a change of ply: why, if the wearer likes to say. It opens above the buttons, moves nothing, and goes by itself;
// the reason can be added later where the entry is put right.
import { useEffect, useState } from "preact/hooks";
import { current } from "../log/book";
import type { PlyBody } from "../log/kinds";
import { Chips } from "../parts/choices";
import { t } from "../words";
import { sayWhy } from "./says";
import { done } from "./taps";

export type Why = NonNullable<PlyBody["why"]>;

const STAYS_MS = 20e3;
const MORE: readonly Why[] = ["loose", "end_pressure", "planned"];
const LESS: readonly Why[] = ["tight", "cannot_seat", "hot", "rest"];

export function WhyRow() {
  const last = done.value;
  const entry = last && !last.undone ? current(last.id) : undefined;
  const change = entry?.kind === "ply" && !entry.erased && last?.from?.total != null ? entry.body.total - last.from.total : 0;
  const why = entry?.kind === "ply" ? entry.body.why ?? null : null;
  const [gone, setGone] = useState<string | null>(null);
  useEffect(() => {
    if (!change || !entry) return;
    setGone(null);
    const timer = setTimeout(() => setGone(entry.id), why ? 2000 : STAYS_MS);
    return () => clearTimeout(timer);
  }, [entry?.id, entry?.stamp]);
  if (!entry || !change || gone === entry.id) return null;
  return (
    <div class="why" data-passing>
      <span aria-hidden="true">{t("today.why_ask")}</span>
      <Chips label={t("today.why_ask")} chosen={why ? [why] : []} onToggle={(one) => sayWhy(entry.id, one === why ? null : one)}
        options={(change > 0 ? MORE : LESS).map((one) => ({ value: one, label: t(`today.why_${one}`) }))} />
    </div>
  );
}
