// One entry, to be put right: its time, what it says, taken out or put back, and what it said before.
import { useEffect, useState } from "preact/hooks";
import { amend, current, entries, erase, restore, type Entry } from "../log/book";
import { entriesOfDay, history } from "../log/past";
import type { EntryOf, Kind } from "../log/kinds";
import { nowForAt } from "../log/offset";
import type { ScreenProps } from "../nav";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { Row, Rows } from "../parts/rows";
import { fromInput, toInput } from "../timeInput";
import { clock, onDay } from "../times";
import { drawer, restack } from "../today/stack";
import { t } from "../words";
import { telling } from "../words/telling";
import { localDay } from "../log/clock";
import { BodyFields } from "./BodyFields";
import { names } from "./names";

const AHEAD_MS = 5 * 60e3;

export function EntryEdit({ at: [id = "", date] }: ScreenProps) {
  const entry = useEntry(id, date);
  const back = date ? { href: `#/day/${date}`, name: t("entry.day_title") } : { href: "#/today", name: t("common.today") };
  if (entry === undefined) return <Page title={t("entry.title")} back={back} />;
  if (entry === null) return <Page title={t("entry.title")} back={back}><p>{t("entry.missing")}</p></Page>;
  return <Editor key={entry.id + entry.stamp} entry={entry} back={back} />;
}

/** The entry as it stands; undefined while it is looked up, null if this phone does not have it. */
function useEntry(id: string, date: string | undefined): Entry | null | undefined {
  const [old, setOld] = useState<Entry | null | undefined>(undefined);
  const live = entries.value;
  useEffect(() => {
    if (date) void entriesOfDay(date, true).then((found) => setOld(found.find((e) => e.id === id) ?? null));
    else setOld(null);
  }, [id, date, live]);
  return current(id) ?? old;
}

function Editor({ entry, back }: { entry: Entry; back: { href: string; name: string } }) {
  const [time, setTime] = useState(toInput(entry.at, entry.zone));
  const [body, setBody] = useState<Entry["body"]>(entry.body);
  const [problem, setProblem] = useState<string | null>(null);
  const moved = time !== toInput(entry.at, entry.zone);
  const changed = moved || body !== entry.body;
  const leave = () => { location.hash = back.href; };
  const save = () => {
    const at = fromInput(time, entry.zone);
    if (!at) return setProblem(t("entry.no_time"));
    if (moved && Date.parse(at) > nowForAt() + AHEAD_MS) return setProblem(t("entry.ahead"));
    // Told by the saving state if it cannot be kept; the entry is on screen either way.
    amend(entry as EntryOf<Kind>, { body: restacked(entry, body) as never, ...(moved ? { at } : {}) }).catch(() => {});
    leave();
  };
  const { what, small } = telling(entry, names());
  const touch = entry.erased
    ? <BigButton tall onClick={() => { restore(entry as EntryOf<Kind>).catch(() => {}); leave(); }}>{t("entry.put_back")}</BigButton>
    : (
      <>
        <BigButton tall onClick={save} disabled={!changed}>{changed ? t("entry.save") : t("entry.unchanged")}</BigButton>
        <BigButton out small={t("entry.erase_small")} onClick={() => { erase(entry as EntryOf<Kind>).catch(() => {}); leave(); }}>{t("entry.erase")}</BigButton>
      </>
    );
  return (
    <Page title={t(entry.erased ? "entry.title_erased" : "entry.title")} back={back} touch={touch}>
      <p><b>{what}</b>, {onDay(localDay(entry.at, entry.zone, 0), 0)}, {clock(entry.at, entry.zone)}{small && <small class="quiet line">{small}</small>}</p>
      {!entry.erased && (
        <>
          <label class="label">
            <span>{t("entry.when")}</span>
            <input class="input" type="datetime-local" value={time} onInput={(e) => { setTime(e.currentTarget.value); setProblem(null); }} />
            <span class="small quiet">{t("entry.zone", { zone: entry.zone.replace("_", " ") })}</span>
          </label>
          {problem && <p class="trouble" role="alert">{problem}</p>}
          <BodyFields entry={entry} body={body} onChange={setBody} />
        </>
      )}
      <Earlier entry={entry} />
    </Page>
  );
}

/** A changed total keeps its socks only where the tap that would have made it would have known them. */
function restacked(entry: Entry, body: Entry["body"]): Entry["body"] {
  if ((entry.kind !== "ply" && entry.kind !== "don") || !("total" in body) || body.total === entry.body.total || body.total == null) return body;
  const base = { total: entry.body.total ?? null, socks: entry.body.socks ?? null };
  return { ...body, socks: restack(base, body.total, drawer(entries.value)) };
}

function Earlier({ entry }: { entry: Entry }) {
  const [list, setList] = useState<Entry[]>([]);
  useEffect(() => { void history(entry.id).then((found) => setList(found.reverse())); }, [entry.stamp]);
  return (
    <section class="field">
      <h2>{t("entry.history")}</h2>
      {list.length === 0 ? <p class="quiet">{t("entry.history_none")}</p> : (
        <Rows>
          {list.map((version) => (
            <Row key={version.stamp} lead={<time dateTime={version.at}>{clock(version.at, version.zone)}</time>} small={telling(version, names()).small}>
              {version.erased ? t("entry.was_out") : t("entry.was", { what: telling(version).what })}
            </Row>
          ))}
        </Rows>
      )}
    </section>
  );
}
