// Making a link: period, what it shows, how long. The defaults are what most visits want, so that one tap is enough.
import { useState } from "preact/hooks";
import { entries, todayDate } from "../../log/book";
import { makeLink, previewOf, type Link, type LinkSpec } from "../../log/clinic";
import { go, href } from "../../nav";
import { BigButton } from "../../parts/buttons";
import { Segment } from "../../parts/choices";
import { Page } from "../../parts/Page";
import { CheckRow, Row, Rows } from "../../parts/rows";
import { localDay, zoneNow } from "../../log/clock";
import { fullDate, longDay } from "../../times";
import { lang, refusal, t, type Lang } from "../../words";
import { ALL, kindsOf, type Tick } from "./ticks";

type Period = "14" | "28" | "91" | "visit" | "all";
type Hours = "24" | "168" | "720" | "2160";

type MakeProps = { list: Link[] | null; failed: boolean };

export function MakePage({ list, failed }: MakeProps) {
  const visit = lastVisit();
  const [period, setPeriod] = useState<Period>("28");
  const [ticks, setTicks] = useState<readonly Tick[]>(ALL.filter((tick) => tick !== "note"));
  const [live, setLive] = useState<"snapshot" | "live">("snapshot");
  const [files, setFiles] = useState(true);
  const [hours, setHours] = useState<Hours>("168");
  const [language, setLanguage] = useState<Lang>(lang.value);
  const [said, setSaid] = useState("");
  const [busy, setBusy] = useState(false);
  const spec: LinkSpec = {
    kinds: kindsOf(ticks), notes: ticks.includes("note"), live: live === "live", hours: Number(hours), files, language,
    ...(period === "visit" ? { from: visit! } : period === "all" ? {} : { days: Number(period) }),
  };
  const none = ticks.length === 0;
  async function make() {
    setBusy(true);
    setSaid("");
    try {
      go(href("link", (await makeLink(spec)).id));
    } catch (error) {
      setSaid(refusal(error as { code?: string; why?: string }) || t("clinic.no_answer"));
    }
    setBusy(false);
  }
  return (
    <Page title={t("clinic.title")} back={{ href: "#/more", name: t("today.more") }}
      touch={
        <>
          <BigButton tall icon="link" onClick={() => void make()} disabled={busy || none}>{t(busy ? "clinic.making" : "clinic.make")}</BigButton>
          {none || <BigButton out href={previewOf(spec)}>{t("clinic.preview")}</BigButton>}
        </>
      }>
      <p role="alert" class={said || none ? "" : "unseen"}>{said || (none ? t("clinic.none_ticked") : "")}</p>
      <div class="field">
        <h2>{t("clinic.from")}</h2>
        <Segment label={t("clinic.from")} value={period} onPick={setPeriod}
          options={[
            { value: "14", label: t("clinic.days_14") }, { value: "28", label: t("clinic.days_28") }, { value: "91", label: t("clinic.days_91") },
            visit ? { value: "visit", label: t("clinic.visit") } : { value: "all", label: t("clinic.all") },
          ]} />
      </div>
      <div class="field">
        <h2>{t("clinic.shows")}</h2>
        <Rows label={t("clinic.shows")}>
          {ALL.map((tick) => (
            <CheckRow key={tick} checked={ticks.includes(tick)} small={tick === "note" ? t("clinic.tick_note_small") : undefined}
              onChange={(on) => setTicks(ALL.filter((other) => (other === tick ? on : ticks.includes(other))))}>
              {t(`clinic.tick_${tick}`)}
            </CheckRow>
          ))}
          <CheckRow checked={files} onChange={setFiles} small={t("clinic.tick_files_small")}>{t("clinic.tick_files")}</CheckRow>
        </Rows>
      </div>
      <div class="field">
        <h2>{t("clinic.how")}</h2>
        <Segment label={t("clinic.how")} value={live} onPick={setLive}
          options={[{ value: "snapshot", label: t("clinic.snapshot") }, { value: "live", label: t("clinic.live") }]} />
        <p class="small quiet">{t(`clinic.${live}_what`)}</p>
      </div>
      <div class="field">
        <h2>{t("clinic.stops")}</h2>
        <Segment label={t("clinic.stops")} value={hours} onPick={setHours}
          options={(["24", "168", "720", "2160"] as const).map((value) => ({ value, label: t(`clinic.hours_${value}`) }))} />
        <p class="small quiet">{t("clinic.terms")}</p>
      </div>
      <div class="field">
        <h2>{t("clinic.language")}</h2>
        <Segment label={t("clinic.language")} value={language} onPick={setLanguage}
          options={[{ value: "en", label: "English" }, { value: "es", label: "Español" }]} />
        <p class="small quiet">{t("clinic.language_what")}</p>
      </div>
      <Made list={list} failed={failed} />
    </Page>
  );
}

function Made({ list, failed }: MakeProps) {
  if (failed) return <p class="small quiet">{t("clinic.list_offline")}</p>;
  if (!list?.length) return null;
  return (
    <section class="field">
      <h2>{t("clinic.made")}</h2>
      <Rows>
        {list.map((link) => (
          <Row key={link.id} href={href("link", link.id)} small={opened(link)}>
            {fullDate(localDay(link.made_at, zoneNow(), 0))}: {t(`clinic.${link.state}`, { day: longDay(localDay(link.expires, zoneNow(), 0)) })}
          </Row>
        ))}
      </Rows>
    </section>
  );
}

/** How often a link was opened, in words. */
export function opened(link: Link): string {
  const n = link.openings.filter((opening) => opening.result === "opened").length;
  return n ? t("clinic.opened", { n }) : t("clinic.opened_never");
}

/** The last visit that is past, if one was written down. */
function lastVisit(): string | null {
  const days = entries.value.flatMap((entry) => (entry.kind === "visit" && entry.body.on < todayDate() ? [entry.body.on] : []));
  return days.sort().at(-1) ?? null;
}
