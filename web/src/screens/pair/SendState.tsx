// How sending stands, in a sentence, and a way to try at once.
import { settings } from "../../log/book";
import { localDay, zoneNow } from "../../log/clock";
import { sync } from "../../log/sync";
import { syncState } from "../../log/talk";
import { TextButton } from "../../parts/buttons";
import { clock, nearDay } from "../../times";
import { t, type Key } from "../../words";

const TALK: Partial<Record<string, Key>> = {
  offline: "common.offline", pair_again: "common.pair_again", too_old: "common.too_old", full: "common.server_full", later: "pair.later",
};

export function SendState() {
  const { talk, waiting, lastSync, why } = syncState.value;
  const { day_starts } = settings.value;
  const key = TALK[talk];
  return (
    <section class="field">
      <h2>{t("pair.state")}</h2>
      <p role="status">
        {waiting ? t("pair.state_waiting", { n: waiting }) : t("pair.state_sent")}
        {key && <> {sentence(t(key))}</>}{key && why ? ` ${why}` : ""}
      </p>
      <p class="quiet">{lastSync ? t("pair.last", { day: nearDay(localDay(lastSync, zoneNow(), day_starts), day_starts).toLowerCase(), time: clock(lastSync) }) : t("pair.never")}</p>
      <TextButton onClick={() => void sync()}>{t("pair.send_now")}</TextButton>
    </section>
  );
}

const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1) + (words.endsWith(".") ? "" : ".");
