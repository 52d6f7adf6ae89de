// The code as typed, and what came of it in plain words.
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import { pairWith, PairingFailed } from "../../log/pairing";
import { go } from "../../nav";
import { refusal, t, type Key } from "../../words";

const LENGTH = 8;

/** Crockford's alphabet has no I, L, O: what looks like a digit is read as one. */
export const tidy = (typed: string): string =>
  typed.toUpperCase().replace(/[^0-9A-Z]/g, "").replace(/O/g, "0").replace(/[IL]/g, "1").slice(0, LENGTH);

const shown = (code: string) => (code.length > 4 ? `${code.slice(0, 4)}-${code.slice(4)}` : code);

export type Pairing = { code: string; busy: boolean; said: string | null; setCode: (typed: string) => void; pair: () => Promise<void> };

export function usePairing(first: string): Pairing {
  const [code, setCode] = useState(tidy(first));
  const [{ busy, said }, setState] = useState<{ busy: boolean; said: string | null }>({ busy: false, said: null });
  const pair = async () => {
    if (code.length !== LENGTH) return setState({ busy: false, said: t("pair.code_short") });
    setState({ busy: true, said: null });
    try {
      await pairWith(shown(code));
      if (location.hash.startsWith("#/pair/")) go("#/pair", true); // the code is used up; whoever has left is not called back
      setState({ busy: false, said: t("pair.done") });
    } catch (error) {
      setState({ busy: false, said: inWords(error) });
    }
  };
  return { code, busy, said, setCode: (typed) => setCode(tidy(typed)), pair };
}

const SAID: Partial<Record<string, Key>> = {
  used: "pair.wrong_plain", expired: "pair.expired", locked: "pair.locked", other_logbook: "pair.other_logbook", offline: "pair.no_answer",
};

function inWords(error: unknown): string {
  if (!(error instanceof PairingFailed)) return t("pair.no_answer");
  const key = SAID[error.code];
  if (key) return t(key);
  if (error.triesLeft !== null && error.triesLeft > 0) return t("pair.wrong", { n: error.triesLeft });
  return error.triesLeft === 0 ? t("pair.locked") : refusal(error) || t("pair.no_answer");
}

export function CodeField({ pairing, children }: { pairing: Pairing; children?: ComponentChildren }) {
  const id = useId();
  return (
    <form class="field" onSubmit={(e) => { e.preventDefault(); void pairing.pair(); }}>
      <label class="label" for={id}><span>{t("pair.code")}</span></label>
      <input id={id} class="input code" type="text" inputMode="text" autocomplete="one-time-code" autocapitalize="characters" spellcheck={false}
        placeholder="0000-0000" maxLength={12} value={shown(pairing.code)} onInput={(e) => pairing.setCode(e.currentTarget.value)} aria-describedby={`${id}-hint`} />
      <p id={`${id}-hint`} class="small quiet">{t("pair.code_hint")}</p>
      <div role="status">{pairing.said && <p class="trouble said">{pairing.said}</p>}</div>
      {children}
      <p class="small quiet">{t("pair.install")}</p>
    </form>
  );
}
