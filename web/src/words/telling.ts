// What any entry says, as one line and a smaller one: for the list of a day, search, the attention list, evidence.
import type { Entry, EntryOf, Limb } from "../log/kinds";
import { number } from "../times";
import { t, type Key } from ".";

export type Told = { what: string; small: string };

/** What an entry is about, in names: `place` of a spot on a limb, `stack` of socks. Without them it is left out. */
export type Names = { place?: (limb: Limb | null, height: number, angle: number) => string; stack?: (ids: readonly string[]) => string };

const word = (key: string) => t(`entry.${key}` as Key);
const parts = (...texts: (string | null | undefined | false)[]): string => texts.filter(Boolean).join(", ");
const signed = (n: number) => (n > 0 ? `+${number(n)}` : number(n));

export function telling(entry: Entry, names: Names = {}): Told {
  const stack = "socks" in entry.body && entry.body.socks ? names.stack?.(entry.body.socks) : "";
  switch (entry.kind) {
    case "ply":
      return { what: t("entry.kind_ply", { n: entry.body.total }), small: parts(stack, entry.body.why && t(`today.why_${entry.body.why}`)) };
    case "don":
      return {
        what: entry.body.total == null ? t("entry.kind_don") : t("entry.kind_don_ply", { n: entry.body.total }),
        small: parts(stack, entry.body.clicks != null && t("entry.clicks_n", { n: entry.body.clicks })),
      };
    case "doff":
      return { what: t("entry.kind_doff"), small: "" };
    case "adjust": {
      const { what, by, reading, unit } = entry.body;
      return reading == null
        ? { what: t("entry.kind_adjust", { what: word(what), by: signed(by ?? 0) }), small: "" }
        : { what: t("entry.kind_adjust_reading", { what: word(what), reading: parts(`${number(reading)} ${unit ?? ""}`.trim()) }), small: "" };
    }
    case "sore":
      return sore(entry, names);
    case "skin":
      return skin(entry, names);
    case "comfort":
      return { what: t("entry.kind_comfort", { n: entry.body.score }), small: "" };
    case "mishap": {
      const { what, hurt, head, cannot_stand, note = "" } = entry.body;
      return { what: word(what), small: parts(hurt && word("hurt"), head && word("head"), cannot_stand && word("cannot_stand"), note) };
    }
    case "change":
      return { what: t("entry.kind_change", { what: word(entry.body.what) }), small: entry.body.note ?? "" };
    case "girth":
      return { what: t("entry.kind_girth", { n: entry.body.marks.length }), small: "" };
    case "day":
      return { what: t("entry.kind_day", { what: parts(...entry.body.tags.map((tag) => word(["hot", "other"].includes(tag) ? (tag === "hot" ? "day_hot" : tag) : tag))) }), small: "" };
    case "activity":
      return { what: word(entry.body.what), small: entry.body.minutes == null ? "" : t("entry.minutes_n", { n: entry.body.minutes }) };
    case "sock":
      return { what: t("entry.kind_sock", { name: entry.body.name, n: entry.body.ply, count: entry.body.count ?? 1 }), small: entry.body.mark ?? "" };
    case "need":
      return { what: t("entry.kind_need", { text: entry.body.text }), small: "" };
    case "question":
      return { what: t("entry.kind_question", { text: entry.body.text }), small: "" };
    case "option":
      return { what: t("entry.kind_option", { text: entry.body.name }), small: entry.body.note ?? "" };
    case "trip":
      return { what: t("entry.kind_trip", { date: entry.body.date, hours: entry.body.hours }), small: entry.body.note ?? "" };
    case "visit":
      return { what: t("entry.kind_visit", { date: entry.body.on }), small: parts(entry.body.clinic, entry.body.purpose) };
    case "profile":
      return { what: t("entry.kind_profile"), small: "" };
    case "told":
      return { what: t("entry.kind_told"), small: entry.body.note ?? "" };
    case "note":
      return { what: t("entry.kind_note"), small: entry.body.text };
    default:
      return { what: t("entry.kind_other"), small: "" };
  }
}

function sore({ limb, body: { height, angle, intensity, feel, phantom } }: EntryOf<"sore">, { place }: Names): Told {
  if (phantom) return { what: t("entry.kind_phantom", { n: intensity }), small: feel ? word(feel) : "" };
  return { what: t("entry.kind_sore", { n: intensity }), small: parts(place?.(limb, height, angle), feel && word(feel)) };
}

function skin({ limb, body: { clear, findings = [], fever_c, unwell = [], end_unseen } }: EntryOf<"skin">, { place }: Names): Told {
  const quiet = findings.length === 0 && fever_c == null && unwell.length === 0;
  if (quiet && end_unseen) return { what: t("entry.kind_skin_unseen"), small: clear ? t("entry.rest_clear") : "" };
  if (clear && findings.length === 0) return { what: t("entry.kind_skin_clear"), small: "" };
  const where = findings.map((f) => (f.height == null || f.angle == null ? "" : place?.(limb, f.height, f.angle) ?? ""));
  const fade = findings.map((f) => (f.still_red ? word("still_red") : f.fade_min == null ? "" : t("entry.faded", { n: f.fade_min })));
  return {
    what: t("entry.kind_skin", { what: parts(...new Set(findings.map((f) => word(f.what)))) }),
    small: parts(...new Set(where), ...new Set(fade), fever_c != null && t("entry.fever", { n: number(fever_c) }), end_unseen && word("end_unseen")),
  };
}
