// The code as typed. It says first what will be sent, and what went wrong in plain words.
import { useId, useState } from "preact/hooks";
import { pairWith, PairingFailed } from "../../log/pairing";
import { syncState } from "../../log/sync";
import { go } from "../../nav";
import { BigButton } from "../../parts/buttons";
import { t, type Key } from "../../words";

const LENGTH = 8;

/** Crockford's alphabet has no I, L, O, U: what looks like a digit is read as one. */
export const tidy = (typed: string): string =>
  typed.toUpperCase().replace(/[^0-9A-Z]/g, "").replace(/O/g, "0").replace(/[IL]/g, "1").slice(0, LENGTH);

const shown = (code: string) => (code.length > 4 ? `${code.slice(0, 4)}-${code.slice(4)}` : code);

const SAID: Partial<Record<string, Key>> = {
  used: "pair.wrong_plain", expired: "pair.expired", locked: "pair.locked", other_logbook: "pair.other_logbook", offline: "pair.no_answer",
};

export function CodeForm({ first, held }: { first: string; held: number }) {
  const id = useId();
  const [code, setCode] = useState(tidy(first));
  const [state, setState] = useState<{ busy: boolean; said: string | null }>({ busy: false, said: null });
  const carries = !syncState.value.paired && held > 0;
  const pair = async () => {
    if (code.length !== LENGTH) return setState({ busy: false, said: t("pair.code_short") });
    setState({ busy: true, said: null });
    try {
      await pairWith(shown(code));
      go("#/pair", true);
      setState({ busy: false, said: t("pair.done") });
    } catch (error) {
      setState({ busy: false, said: inWords(error) });
    }
  };
  return (
    <form class="field" onSubmit={(e) => { e.preventDefault(); void pair(); }}>
      <label class="label" for={id}><span>{t("pair.code")}</span></label>
      <input id={id} class="input code" type="text" inputMode="text" autocomplete="one-time-code" autocapitalize="characters" spellcheck={false}
        placeholder="XXXX-XXXX" maxLength={12} value={shown(code)} onInput={(e) => { setCode(tidy(e.currentTarget.value)); }} aria-describedby={`${id}-hint`} />
      <p id={`${id}-hint`} class="small quiet">{t("pair.code_hint")}</p>
      {carries ? <p>{t("pair.carry", { n: held })}</p> : !syncState.value.paired && <p>{t("pair.carry_none")}</p>}
      <div role="status">{state.said && <p class="trouble said">{state.said}</p>}</div>
      <BigButton onClick={() => void pair()} disabled={state.busy}>{t(state.busy ? "pair.pairing" : carries ? "pair.pair_and_send" : "pair.pair")}</BigButton>
      <p class="small quiet">{t("pair.install")}</p>
    </form>
  );
}

function inWords(error: unknown): string {
  if (!(error instanceof PairingFailed)) return t("pair.no_answer");
  const key = SAID[error.code];
  if (key) return t(key);
  if (error.triesLeft !== null && error.triesLeft > 0) return t("pair.wrong", { n: error.triesLeft });
  return error.triesLeft === 0 ? t("pair.locked") : error.why || t("pair.no_answer");
}
