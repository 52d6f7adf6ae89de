// What an entry about wear says, in the words of the buttons: "1 ply on", "taken off".
import type { Entry } from "../log/kinds";
import { t } from "../words";

/** `before` is the total that was on before a change of ply, null where that is not known. */
export function saying(entry: Entry, before: number | null): string {
  switch (entry.kind) {
    case "ply": {
      const by = before === null ? null : entry.body.total - before;
      if (by === null) return t("today.say_ply", { n: entry.body.total });
      return by > 0 ? t("today.on_ply", { n: by }) : by < 0 ? t("today.off_ply", { n: -by }) : t("today.socks_changed", { n: entry.body.total });
    }
    case "don":
      return typeof entry.body.total === "number" ? t("today.put_on_done", { n: entry.body.total }) : t("today.put_on_done_plain");
    case "doff":
      return t("today.taken_off");
    case "adjust": {
      const by = entry.body.by ?? 0;
      return stepWords(entry.body.what, by >= 0 ? "more" : "less", Math.abs(by));
    }
    default:
      return entry.kind;
  }
}

type What = "dial" | "strap" | "vacuum" | "air_bladder" | "pad";

/** "2 steps tighter". */
export const stepWords = (what: What, way: "less" | "more", n: number): string => t(`today.${what}_${way}`, { n });
