// The drawer: socks owned with the wearer's own labels, what is ready, and what makes a total.
import { useEffect, useState } from "preact/hooks";
import { amend, entries } from "../log/book";
import { entriesBetween } from "../log/past";
import type { EntryOf } from "../log/kinds";
import { href, type ScreenProps } from "../nav";
import { SockForm } from "../drawer/SockForm";
import { MakeTotal } from "../drawer/MakeTotal";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { Swatch } from "../parts/Swatch";
import { shownNow } from "../today/outside";
import { t } from "../words";

type SockEntry = EntryOf<"sock">;
const STATES = ["ready", "wash", "worn_out"] as const;

export function Socks({ at: [id] }: ScreenProps) {
  const all = entries.value.filter((e): e is SockEntry => e.kind === "sock");
  const uses = useUses(all);
  const chosen = all.find((entry) => entry.id === id);
  if (id === "new" || chosen) return <SockForm key={id!} entry={chosen} uses={chosen && uses ? (uses.get(chosen.id) ?? 0) : null} />;
  const washing = all.filter((entry) => entry.body.state === "wash");
  const washed = () => { for (const entry of washing) amend(entry, { body: { ...entry.body, state: "ready" } }).catch(() => {}); };
  return (
    <Page title={t("socks.title")} back={{ href: "#/today", name: t("common.today") }}
      touch={
        <>
          <BigButton icon="plus" href={href("socks", "new")}>{t("socks.add")}</BigButton>
          {washing.length > 0 && <BigButton out onClick={washed}>{t("socks.washed")}</BigButton>}
        </>
      }>
      {all.length === 0 && <p>{t("socks.none")}</p>}
      {STATES.map((state) => {
        const socks = all.filter((entry) => (entry.body.state ?? "ready") === state).sort((a, b) => b.body.ply - a.body.ply || (a.body.name < b.body.name ? -1 : 1));
        return socks.length > 0 && (
          <section key={state} class="field">
            <h2>{t(`socks.${state}`)}</h2>
            <Rows label={t(`socks.${state}`)}>
              {socks.map((entry) => <SockRow key={entry.id} entry={entry} uses={uses?.get(entry.id) ?? null} />)}
            </Rows>
          </section>
        );
      })}
      {all.some((entry) => (entry.body.state ?? "ready") === "ready") && <MakeTotal limb={shownNow().limb} />}
      <p class="small quiet">{t("socks.care")}</p>
    </Page>
  );
}

function SockRow({ entry: { id, body }, uses }: { entry: SockEntry; uses: number | null }) {
  const small = [t("common.ply", { n: body.ply }), body.mark, body.pin_hole ? t("socks.has_hole") : "", uses ? t("socks.uses", { n: uses }) : ""];
  return (
    <Row href={href("socks", id)} lead={<Swatch ply={body.ply} />} small={small.filter(Boolean).join(", ")}>
      {body.name}{(body.count ?? 1) > 1 && <> × {body.count}</>}
    </Row>
  );
}

/** How often each sock went on, since the first of them was entered: a donning or a change that it came new into. */
function useUses(all: readonly SockEntry[]): ReadonlyMap<string, number> | null {
  const [uses, setUses] = useState<ReadonlyMap<string, number> | null>(null);
  const since = all.reduce((first, entry) => (entry.at < first ? entry.at : first), "9999");
  const live = entries.value;
  useEffect(() => {
    let current = true;
    void entriesBetween(since, "9999").then((found) => { if (current) setUses(count(found.filter((e) => e.kind === "don" || e.kind === "ply"))); });
    return () => { current = false; };
  }, [since, live]);
  return uses;
}

function count(worn: readonly (EntryOf<"don"> | EntryOf<"ply">)[]): Map<string, number> {
  const uses = new Map<string, number>();
  const on = new Map<string | null, readonly string[]>();
  for (const { kind, limb, body } of worn) {
    const before = kind === "don" ? [] : (on.get(limb) ?? []);
    for (const id of new Set(body.socks ?? [])) if (!before.includes(id)) uses.set(id, (uses.get(id) ?? 0) + 1);
    on.set(limb, body.socks ?? []);
  }
  return uses;
}

