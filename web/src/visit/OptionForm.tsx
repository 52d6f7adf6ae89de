// One way to go for the next socket, set against each need: meets it, partly, no, or still to ask.
import { useState } from "preact/hooks";
import { amend, erase, write } from "../log/book";
import { TEXT_MAX, type EntryOf, type OptionBody } from "../log/kinds";
import { go, href } from "../nav";
import { BigButton } from "../parts/buttons";
import { Segment } from "../parts/choices";
import { Page } from "../parts/Page";
import { t } from "../words";
import { asksOf } from "./asks";

const KINDS = ["socket", "suspension", "liner", "foot", "cover"] as const;
const MEETS = ["yes", "partly", "no", "ask"] as const;

export function OptionForm({ entry }: { entry: EntryOf<"option"> | undefined }) {
  const [body, setBody] = useState<OptionBody>(entry?.body ?? { name: "", kind: "socket", meets: {}, note: "" });
  const needs = asksOf("need");
  const back = href("visit");
  const save = () => {
    const named = { ...body, name: body.name.trim() };
    (entry ? amend(entry, { body: named }) : write("option", null, named)).catch(() => {}); // the saving state tells of trouble
    go(back);
  };
  return (
    <Page title={t("visit.option")} back={{ href: back, name: t("visit.title") }}
      touch={
        <>
          <BigButton tall disabled={!body.name.trim()} onClick={save}>{t("common.save")}</BigButton>
          {entry && <BigButton out onClick={() => { erase(entry).catch(() => {}); go(back); }}>{t("visit.remove")}</BigButton>}
        </>
      }>
      <label class="label">
        <span>{t("visit.option_name")}</span>
        <input class="input" maxLength={120} value={body.name} onInput={(e) => setBody({ ...body, name: e.currentTarget.value })} />
      </label>
      <div class="field">
        <h2>{t("visit.option_kind")}</h2>
        <Segment label={t("visit.option_kind")} value={body.kind} onPick={(kind) => setBody({ ...body, kind })}
          options={KINDS.map((kind) => ({ value: kind, label: t(`visit.kind_${kind}`) }))} />
      </div>
      {needs.length === 0 && <p>{t("visit.no_needs")}</p>}
      {needs.map((need) => (
        <div key={need.id} class="field">
          <h3>{need.body.text}{need.body.firm && <> ({t("visit.firm")})</>}</h3>
          <Segment label={need.body.text} value={body.meets?.[need.id] ?? null} onPick={(meets) => setBody({ ...body, meets: { ...body.meets, [need.id]: meets } })}
            options={MEETS.map((one) => ({ value: one, label: t(`visit.meets_${one}`) }))} />
        </div>
      ))}
      <label class="label">
        <span>{t("visit.note")}</span>
        <textarea class="input" maxLength={TEXT_MAX} value={body.note ?? ""} onInput={(e) => setBody({ ...body, note: e.currentTarget.value })} />
      </label>
    </Page>
  );
}
