// One sock, or several alike: its name, its thickness, the wearer's own mark, and whether it is ready.
import { useState } from "preact/hooks";
import { amend, erase, write } from "../log/book";
import type { EntryOf, SockBody } from "../log/kinds";
import { go, href } from "../nav";
import { BigButton } from "../parts/buttons";
import { Segment, Stepper } from "../parts/choices";
import { Page } from "../parts/Page";
import { CheckRow, Rows } from "../parts/rows";
import { Swatch } from "../parts/Swatch";
import { t } from "../words";

type State = NonNullable<SockBody["state"]>;

export function SockForm({ entry, uses }: { entry: EntryOf<"sock"> | undefined; uses: number | null }) {
  const [body, setBody] = useState<SockBody>(entry?.body ?? { name: "", ply: 3, count: 1, mark: "", pin_hole: false, state: "ready" });
  const set = (change: Partial<SockBody>) => setBody({ ...body, ...change });
  const back = { href: href("socks"), name: t("socks.title") };
  const save = () => {
    const named = { ...body, name: body.name.trim() || t("common.ply", { n: body.ply }) };
    (entry ? amend(entry, { body: named }) : write("sock", null, named)).catch(() => {}); // the saving state tells of trouble
    go(back.href);
  };
  return (
    <Page title={t(entry ? "socks.one" : "socks.new")} back={back}
      touch={
        <>
          <BigButton tall onClick={save}>{t("common.save")}</BigButton>
          {entry && <BigButton out small={t("socks.erase_small")} onClick={() => { erase(entry).catch(() => {}); go(back.href); }}>{t("socks.erase")}</BigButton>}
        </>
      }>
      <div class="field">
        <h2>{t("socks.thickness")}</h2>
        <Stepper label={t("socks.thickness")} value={body.ply} least={0} most={10} onChange={(ply) => set({ ply })} unit={t("socks.ply_unit")}
          words={{ less: t("common.less"), more: t("common.more") }} />
        <Swatch ply={body.ply} />
        {body.ply === 0 && <p class="small quiet">{t("socks.sheath")}</p>}
      </div>
      <label class="label">
        <span>{t("socks.name")}</span>
        <input class="input" maxLength={120} placeholder={t("common.ply", { n: body.ply })} value={body.name} onInput={(e) => set({ name: e.currentTarget.value })} />
      </label>
      <label class="label">
        <span>{t("socks.mark")}</span>
        <input class="input" maxLength={60} value={body.mark ?? ""} onInput={(e) => set({ mark: e.currentTarget.value })} />
        <span class="small quiet">{t("socks.mark_what")}</span>
      </label>
      <div class="field">
        <h2>{t("socks.count")}</h2>
        <Stepper label={t("socks.count")} value={body.count ?? 1} least={0} most={99} onChange={(count) => set({ count })} words={{ less: t("common.less"), more: t("common.more") }} />
      </div>
      <Rows><CheckRow checked={body.pin_hole ?? false} onChange={(pin_hole) => set({ pin_hole })} small={t("socks.hole_what")}>{t("socks.hole")}</CheckRow></Rows>
      <div class="field">
        <h2>{t("socks.state")}</h2>
        <Segment<State> label={t("socks.state")} value={body.state ?? "ready"} onPick={(state) => set({ state })}
          options={(["ready", "wash", "worn_out"] as const).map((state) => ({ value: state, label: t(`socks.${state}`) }))} />
      </div>
      {uses !== null && <p class="small quiet">{t("socks.uses", { n: uses })}. {t("socks.thins")}</p>}
    </Page>
  );
}
