// Which socks are on, chosen from the drawer: the list is the stack, the last added is the outermost.
import { useState } from "preact/hooks";
import { entries, settings } from "../log/book";
import { PLY_MAX, type Limb } from "../log/kinds";
import { href, type ScreenProps } from "../nav";
import { BigButton, TextButton } from "../parts/buttons";
import { Stepper } from "../parts/choices";
import { Icon } from "../parts/Icon";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { Swatch } from "../parts/Swatch";
import { now } from "../today/now";
import { drawer, plies, type Owned } from "../today/stack";
import { sayStack, sayTotal } from "../today/says";
import { worn } from "../today/wear";
import { t } from "../words";

export function OtherSock({ at: [side] }: ScreenProps) {
  const limb: Limb = side === "left" ? "left" : "right";
  const { layers_max, day_starts } = settings.value;
  const state = worn(entries.value, limb, now.value, day_starts);
  const start = state.on ?? state.next;
  const socks = drawer(entries.value);
  const [on, setOn] = useState<string[]>(() => (start?.socks && plies(start.socks, socks) ? [...start.socks] : []));
  const [total, setTotal] = useState(start?.total ?? 0);
  const owned = [...socks.values()].sort((a, b) => b.ply - a.ply || (a.name < b.name ? -1 : 1));
  const sum = (plies(on, socks) ?? []).reduce((a, b) => a + b, 0);
  const leave = () => { location.hash = "#/today"; };
  const named = owned.length > 0;
  const n = named ? sum : total;
  const order = on.length ? t("stack.order", { list: on.map((id) => socks.get(id)!.ply).join(" + ") }) : t("stack.nothing");
  return (
    <Page title={t(state.on ? "stack.title_on" : "stack.title_off")} back={{ href: "#/today", name: t("common.today") }}
      touch={
        <BigButton tall {...(named ? { small: order } : {})} onClick={() => { if (named) sayStack(limb, on, sum); else sayTotal(limb, total); leave(); }}>
          {t(state.on ? "stack.save_on" : "stack.save_off", { n })}
        </BigButton>
      }>
      {named ? (
        <>
          <section class="field">
            <h2>{t("stack.on")}</h2>
            {on.length === 0 ? <p class="quiet">{t("stack.none_on")}</p> : (
              <Rows label={t("stack.on")}>
                {on.map((id, i) => ({ id, i })).reverse().map(({ id, i }) => {
                  const sock = socks.get(id)!;
                  const place = i === 0 ? t("stack.innermost") : i === on.length - 1 ? t("stack.outermost") : "";
                  return (
                    <Row key={`${id} ${i}`} lead={<Swatch ply={sock.ply} />} small={[sock.mark, place].filter(Boolean).join(", ")}
                      side={<TextButton label={t("stack.take", { name: nameOf(sock) })} onClick={() => setOn(on.filter((_, j) => j !== i))}>{t("stack.take_word")}</TextButton>}>
                      {nameOf(sock)}
                    </Row>
                  );
                })}
              </Rows>
            )}
            {on.length > layers_max && <p role="status">{t("stack.many", { n: on.length, most: layers_max })}</p>}
          </section>
          <section class="field">
            <h2>{t("stack.add")}</h2>
            <Rows label={t("stack.add")}>
              {owned.filter((sock) => sock.count > 0).map((sock) => {
                const free = sock.count - on.filter((id) => id === sock.id).length;
                const can = free > 0 && sum + sock.ply <= PLY_MAX;
                const note = [sock.mark, free > 0 ? t("stack.free", { n: free }) : t("stack.all_on"), sock.state !== "ready" && t(`stack.${sock.state}`)].filter(Boolean).join(", ");
                return <Row key={sock.id} lead={<Swatch ply={sock.ply} />} small={note} {...(can ? { onClick: () => setOn([...on, sock.id]), side: <Icon name="plus" /> } : {})}>{nameOf(sock)}</Row>;
              })}
            </Rows>
          </section>
        </>
      ) : (
        <section class="field">
          <p>{t("stack.none_owned")}</p>
          <TextButton href={href("first", "2")}>{t("stack.own")}</TextButton>
          <h2>{t("stack.total")}</h2>
          <Stepper label={t("stack.total")} value={total} least={0} most={PLY_MAX} onChange={setTotal} words={{ less: t("today.ply_off"), more: t("today.ply_on") }} />
        </section>
      )}
    </Page>
  );
}

/** The wearer's own name, with the thickness where the name does not say it. */
const nameOf = (sock: Owned): string => (sock.name.includes(String(sock.ply)) ? sock.name : `${sock.name}, ${t("common.ply", { n: sock.ply })}`);
