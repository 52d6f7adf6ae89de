// Where the entries are: one icon and a few words, always there, never in the way. It leads to the pairing screen.
import { useEffect, useState } from "preact/hooks";
import { saving } from "../log/book";
import { syncState } from "../log/talk";
import { clock } from "../moments";
import { t } from "../words";
import { Icon, type IconName } from "./Icon";

const WORD_AFTER_MS = 500; // a save is told only when it is slow
const SENT_STAYS_MS = 10e3;

export function SyncState() {
  const { icon, words, brief } = state(useSlow());
  return (
    <span role="status">
      <a class="sync" href="#/pair"><Icon name={icon} /><span class={brief ? "unseen" : ""}>{words}</span></a>
    </span>
  );
}

type State = { icon: IconName; words: string; brief?: boolean };

function state({ slow, fresh }: { slow: boolean; fresh: boolean }): State {
  const { paired, talk, waiting, lastSync } = syncState.value;
  if (slow) return { icon: "phone_saving", words: t("common.saving") };
  if (!paired) return { icon: "phone", words: t("common.alone") };
  if (talk === "pair_again") return { icon: "phone_bad", words: t("common.pair_again") };
  if (talk === "too_old") return { icon: "phone_bad", words: t("common.too_old") };
  if (talk === "full") return { icon: "phone_bad", words: t("common.server_full") };
  if (talk === "offline") return { icon: "phone_cut", words: t("common.offline") };
  if (waiting > 0) return { icon: "phone", words: t("common.waiting", { n: waiting }) };
  return { icon: "phone_ok", words: lastSync ? t("common.sent", { time: clock(lastSync) }) : t("common.sent_all"), brief: !fresh };
}

/** Whether a save has taken long, and whether the last sync was a moment ago; wakes when either changes by itself. */
function useSlow(): { slow: boolean; fresh: boolean } {
  const since = saving.value.since;
  const last = syncState.value.lastSync;
  const [, wake] = useState(0);
  useEffect(() => {
    const now = Date.now();
    const due = [since && since + WORD_AFTER_MS, last && last + SENT_STAYS_MS].filter((at): at is number => !!at && at > now);
    const timers = due.map((at) => setTimeout(() => wake((n) => n + 1), at - now + 1));
    return () => timers.forEach(clearTimeout);
  }, [since, last]);
  const now = Date.now();
  return { slow: since !== null && now - since > WORD_AFTER_MS, fresh: last !== null && now - last < SENT_STAYS_MS };
}
