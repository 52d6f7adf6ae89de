// Your data: files out and in, the calendar, what was done with it, erasing.
import { useEffect, useState } from "preact/hooks";
import { localDay, zoneNow } from "../log/clock";
import { audit, bringIn, exportOf, FORMATS, phoneFile, type AuditLine, type Taken } from "../log/data";
import { syncState } from "../log/talk";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Said } from "../parts/Said";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { clock, fullDate } from "../times";
import { refusal, said, t } from "../words";
import { CalendarPart } from "./data/CalendarPart";
import { ErasePart } from "./data/ErasePart";

export function Data() {
  const { paired } = syncState.value;
  return (
    <Page title={t("data.title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="data" />}>
      <Out paired={paired} />
      {paired ? <><In /><CalendarPart /><Done /></> : <p class="small quiet">{t("data.needs_server")}</p>}
      <ErasePart paired={paired} />
    </Page>
  );
}

const Out = ({ paired }: { paired: boolean }) => (
  <section class="field">
    <h2>{t("data.out")}</h2>
    <ul class="rows">
      {paired && FORMATS.map((format) => (
        <li key={format}><a class="row" href={exportOf(format)} download=""><span class="what">{t(`data.${format}`)}<small>{t(`data.${format}_small`)}</small></span></a></li>
      ))}
      <Row onClick={() => void save()} small={t("data.phone_small")}>{t("data.phone")}</Row>
    </ul>
  </section>
);

/** Hands the phone's own entries over as a file. */
async function save(): Promise<void> {
  const url = URL.createObjectURL(await phoneFile());
  const link = Object.assign(document.createElement("a"), { href: url, download: "plytide-phone.jsonl" });
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60e3);
}

function In() {
  const [state, setState] = useState<"idle" | "busy" | "failed" | Taken>("idle");
  const [why, setWhy] = useState("");
  async function bring(file: File | undefined) {
    if (!file) return;
    setState("busy");
    try {
      setState(await bringIn(file));
    } catch (error) {
      setWhy(refusal(error as { code?: string; why?: string }));
      setState("failed");
    }
  }
  return (
    <section class="field">
      <h2>{t("data.in")}</h2>
      <p class="small quiet">{t("data.in_what")}</p>
      <label class="label"><span>{t("data.in_pick")}</span>
        <input class="input" type="file" accept=".jsonl,application/jsonl,application/x-ndjson" onChange={(e) => void bring(e.currentTarget.files?.[0])} />
      </label>
      <div role="status">
        {state === "busy" && <p>{t("data.in_busy")}</p>}
        {state === "failed" && <p>{why || t("data.failed")}</p>}
        {typeof state === "object" && <Report taken={state} />}
      </div>
    </section>
  );
}

const Report = ({ taken: { taken, known, refused, refusals } }: { taken: Taken }) => (
  <>
    <p><b>{t("data.in_taken", { n: taken })}</b> {known > 0 && t("data.in_known", { n: known })}</p>
    {refused > 0 && (
      <>
        <p>{t("data.in_refused", { n: refused })}</p>
        <Rows>{refusals.map(({ line, ...told }) => <Row key={line}>{t("data.in_line", { n: line, why: refusal(told) })}</Row>)}</Rows>
      </>
    )}
  </>
);

const PAGE = 20;
const INSTANT = /\d{4}-\d\d-\d\dT[\d:.]+Z/g; // times inside the server's sentences, said as the reader says them

function Done() {
  const [lines, setLines] = useState<AuditLine[] | null>(null);
  const [shown, setShown] = useState(PAGE);
  useEffect(() => { audit().then(setLines, () => setLines(null)); }, []);
  if (!lines) return null;
  const when = (at: string) => `${fullDate(localDay(at, zoneNow(), 0))}, ${clock(at)}`;
  return (
    <section class="field">
      <h2>{t("data.done")}</h2>
      {lines.length === 0 && <p>{t("data.done_none")}</p>}
      <Rows label={t("data.done")}>{lines.slice(0, shown).map((line, i) => <Row key={i} small={when(line.at)}><Said text={line.words.replace(INSTANT, when)} own={said(line.words).replace(INSTANT, when)} /></Row>)}</Rows>
      {lines.length > shown && <BigButton out onClick={() => setShown(shown + PAGE)}>{t("common.more")}</BigButton>}
    </section>
  );
}
