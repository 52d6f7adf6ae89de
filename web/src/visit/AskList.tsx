// Questions or needs: typed or added with one tap, in the wearer's own order.
import { useState } from "preact/hooks";
import { TEXT_MAX, type EntryOf } from "../log/kinds";
import { TextButton } from "../parts/buttons";
import { Row, Rows } from "../parts/rows";
import { t, type Key } from "../words";
import { addAsk, asksOf, moveUp, removeAsk, setFirm, type Ask, type AskKind } from "./asks";

/** Questions that wearers are glad to have asked, in our own words. */
const STARTERS = ["test_socket", "made_where", "how_long", "suspensions", "payer_first", "ply_limit", "skin_limit", "next_look"] as const;

export function AskList({ kind }: { kind: AskKind }) {
  const [text, setText] = useState("");
  const asks: Ask[] = asksOf(kind);
  const add = () => { const said = text.trim(); if (said) { addAsk(kind, said); setText(""); } };
  return (
    <section class="field">
      <h2>{t(`visit.${kind}s`)}</h2>
      {asks.length > 0 && (
        <Rows label={t(`visit.${kind}s`)}>
          {asks.map((ask, i) => (
            <Row key={ask.id} lead={`${i + 1}.`} side={
              <span class="ask-acts">
                {ask.kind === "need" && <Firm need={ask} />}
                {i > 0 && <TextButton label={t("visit.up_of", { text: ask.body.text })} onClick={() => moveUp(ask)}>{t("visit.up")}</TextButton>}
                <TextButton label={t("visit.remove_of", { text: ask.body.text })} onClick={() => removeAsk(ask)}>{t("visit.remove")}</TextButton>
              </span>
            }>{ask.body.text}</Row>
          ))}
        </Rows>
      )}
      <label class="label">
        <span>{t(`visit.add_${kind}`)}</span>
        <textarea class="input" rows={2} maxLength={TEXT_MAX} value={text} onInput={(e) => setText(e.currentTarget.value)} />
      </label>
      <TextButton icon="plus" label={`${t("visit.add")}: ${t(`visit.add_${kind}`)}`} onClick={add}>{t("visit.add")}</TextButton>
      {kind === "question" && <Starters taken={asks.map(({ body }) => body.text)} />}
    </section>
  );
}

const Firm = ({ need }: { need: EntryOf<"need"> }) => (
  <button type="button" class="chip" aria-pressed={need.body.firm ?? false} onClick={() => setFirm(need, !need.body.firm)}>{t("visit.firm")}</button>
);

function Starters({ taken }: { taken: readonly string[] }) {
  const left = STARTERS.map((one) => t(`visit.starter_${one}` as Key)).filter((text) => !taken.includes(text));
  if (left.length === 0) return null;
  return (
    <details>
      <summary>{t("visit.starters")}</summary>
      <Rows label={t("visit.starters")}>
        {left.map((text) => <Row key={text} icon="plus" onClick={() => addAsk("question", text)}>{text}</Row>)}
      </Rows>
    </details>
  );
}
