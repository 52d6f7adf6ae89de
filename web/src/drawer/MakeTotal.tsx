// What makes a total from the socks at hand: fewest layers, and the shortest way from what is on. It adds up; it does
// not say how many ply to wear.
import { useState } from "preact/hooks";
import { entries, settings } from "../log/book";
import type { Limb } from "../log/kinds";
import { Stepper } from "../parts/choices";
import { Row, Rows } from "../parts/rows";
import { Swatch } from "../parts/Swatch";
import { now } from "../today/now";
import { plies } from "../today/stack";
import { worn } from "../today/wear";
import { t } from "../words";
import { freeSocks } from "./owned";
import { shortest, stacks, supply } from "./stacks";

export function MakeTotal({ limb }: { limb: Limb }) {
  const { day_starts, layers_max, limbs, ply_ceiling } = settings.value;
  const state = worn(entries.value, limb, now.value, day_starts);
  const on = state.on?.socks ?? [];
  const [total, setTotal] = useState((state.on ?? state.next)?.total ?? 5);
  const { socks, free } = freeSocks(entries.value, on, limbs.find((one) => one.side === limb));
  const worn_ = plies(on, socks) ?? [];
  const all = supply([...free.map((sock) => sock.ply), ...worn_]);
  const found = stacks(total, all, layers_max);
  const move = state.on && on.length ? shortest(worn_, total, supply(free.map((sock) => sock.ply)), layers_max) : null;
  return (
    <section class="field">
      <h2>{t("socks.make")}</h2>
      <Stepper label={t("socks.make")} value={total} least={1} most={ply_ceiling + 5} onChange={setTotal} unit={t("socks.ply_unit")}
        words={{ less: t("today.ply_off"), more: t("today.ply_on") }} />
      {found.length === 0 ? <p>{t("socks.cannot", { n: total, layers: layers_max })}</p> : (
        <Rows label={t("socks.ways", { n: total })}>
          {found.map((stack) => (
            <Row key={stack.join()} lead={<Stack plies={stack} />} small={t("socks.layers", { n: stack.length })}>{stack.join(" + ")}</Row>
          ))}
        </Rows>
      )}
      {move && move.off + move.on > 0 && <p>{t("socks.move", { off: move.off, on: move.on, stack: move.stack.join(" + ") })}</p>}
      <p class="small quiet">{t("socks.not_equal")}</p>
    </section>
  );
}

const Stack = ({ plies }: { plies: readonly number[] }) => (
  <span class="mini-stack">{[...plies].reverse().map((ply, i) => <Swatch key={i} ply={ply} />)}</span>
);
