// One link: the code to read out, ways to send the address, what it shows, who was there, and how to stop it.
import { useState } from "preact/hooks";
import { qrOf, stopLink, type Link, type Opening } from "../../log/clinic";
import { localDay, zoneNow } from "../../log/clock";
import { syncState } from "../../log/talk";
import { go, href } from "../../nav";
import { BigButton, TextButton } from "../../parts/buttons";
import { Page } from "../../parts/Page";
import { Row, Rows } from "../../parts/rows";
import { clock, fullDate, longDay } from "../../times";
import { t } from "../../words";
import { opened } from "./MakePage";
import { ticksOf } from "./ticks";

type LinkProps = { id: string; list: Link[] | null; failed: boolean; again: () => Promise<void> };

export function LinkPage({ id, list, failed, again }: LinkProps) {
  const link = list?.find((one) => one.id === id);
  const [sure, setSure] = useState(false);
  const [said, setSaid] = useState("");
  const back = { href: "#/link", name: t("clinic.title") };
  if (!link)
    return (
      <Page title={t("clinic.title")} back={back} touch={<BigButton onClick={() => void again()}>{t("common.again")}</BigButton>}>
        <p role="status">{failed ? t("clinic.list_offline") : list ? t("clinic.gone") : t("common.loading")}</p>
      </Page>
    );
  const open = link.state === "open";
  async function stop() {
    try {
      await stopLink(id);
      setSure(false);
      await again();
    } catch {
      setSaid(t("clinic.list_offline"));
    }
  }
  return (
    <Page title={t("clinic.title")} back={back}
      touch={
        sure ? (
          <>
            <p>{t("clinic.stop_sure")}</p>
            <BigButton icon="stop" onClick={() => void stop()}>{t("clinic.stop_yes")}</BigButton>
            <BigButton out onClick={() => setSure(false)}>{t("common.cancel")}</BigButton>
          </>
        ) : (
          <>
            {open && <BigButton icon="share" onClick={() => void send(link).then(setSaid)}>{t("clinic.send")}</BigButton>}
            <div class="two">
              <BigButton out onClick={() => go(href("link"))}>{t("clinic.another")}</BigButton>
              {open && <BigButton out icon="stop" onClick={() => setSure(true)}>{t("clinic.stop")}</BigButton>}
            </div>
          </>
        )
      }>
      {open ? <Address link={link} say={setSaid} /> : <p><b>{t({ expired: "clinic.ended", revoked: "clinic.stopped", locked: "clinic.locked_what" }[link.state as "expired"] as "clinic.ended")}</b></p>}
      <p role="status" class={said ? "" : "unseen"}>{said}</p>
      <p><b>{shows(link)}</b>{" "}
        <span class="quiet">{link.live && t("clinic.goes_on")}{" "}{t("clinic.until", { day: longDay(day(link.expires)), time: clock(link.expires) })}</span></p>
      {link.live && syncState.value.waiting > 0 && <p class="small">{t("clinic.waits", { n: syncState.value.waiting })}</p>}
      <section class="field">
        <h2>{opened(link)}</h2>
        {link.openings.length > 0 && (
          <Rows>
            {[...link.openings].reverse().map((opening, i) => (
              <Row key={i} side={<span class="small quiet">{result(opening)}</span>}>{longDay(day(opening.at))}, {clock(opening.at)}</Row>
            ))}
          </Rows>
        )}
        <p class="small quiet">{t("clinic.unknown_who")}</p>
      </section>
    </Page>
  );
}

function Address({ link, say }: { link: Link; say: (words: string) => void }) {
  const [qr, setQr] = useState<"page" | "health" | null>(null);
  const toggle = (which: "page" | "health") => setQr(qr === which ? null : which);
  return (
    <section class="card">
      <p class="small quiet">{t(link.code ? "clinic.code" : "clinic.code_none")}</p>
      {link.code && <p class="code-large">{link.code.replace(/^(\d{3})/, "$1 ")}</p>}
      <p class="small address">{link.url}</p>
      <div class="link-acts">
        <TextButton icon="copy" onClick={() => void copy(link.url).then(say)}>{t("clinic.copy")}</TextButton>
        <TextButton onClick={() => toggle("page")}>{t(qr === "page" ? "clinic.qr_hide" : "clinic.qr")}</TextButton>
        {link.health_link && <TextButton onClick={() => toggle("health")}>{t(qr === "health" ? "clinic.health_hide" : "clinic.health")}</TextButton>}
      </div>
      {qr && <img class="qr" key={qr} src={qrOf(link.id, qr === "health")} alt={t(qr === "health" ? "clinic.health_qr" : "clinic.qr_what")} width="240" height="240" />}
      {qr === "health" && (
        <>
          <p class="small">{t("clinic.health_what")}</p>
          <TextButton icon="copy" onClick={() => void copy(link.health_link!).then(say)}>{t("clinic.health_copy")}</TextButton>
        </>
      )}
      {link.code && <p class="small quiet">{t("clinic.send_apart")}</p>}
    </section>
  );
}

async function copy(text: string): Promise<string> {
  try {
    await navigator.clipboard.writeText(text);
    return t("clinic.copied");
  } catch {
    return t("clinic.copy_failed");
  }
}

/** The share sheet where there is one, else the clipboard. The code is never sent along. */
async function send(link: Link): Promise<string> {
  if (!navigator.share) return copy(link.url);
  try {
    await navigator.share({ title: t("clinic.title"), text: t("clinic.share_text"), url: link.url });
  } catch (error) {
    if ((error as Error).name !== "AbortError") return copy(link.url);
  }
  return "";
}

const day = (at: string) => localDay(at, zoneNow(), 0);

function shows(link: Link): string {
  const kinds = ticksOf(link.kinds, link.notes).map((tick) => t(`clinic.tick_${tick}`).toLocaleLowerCase()).join("; ");
  const last = longDay(day(link.live ? new Date().toISOString() : link.made_at));
  if (link.days) return t("clinic.to_today", { span: spanOf(link.days), day: last, kinds });
  return link.from ? t("clinic.since_day", { from: fullDate(link.from), day: last, kinds }) : t("clinic.everything", { day: last, kinds });
}

const spanOf = (n: number) => (n === 14 || n === 28 || n === 91 ? t(`clinic.days_${n}`) : t("clinic.days_n", { n }));

function result({ result: what }: Opening): string {
  return what === "opened" ? t("clinic.read") : what === "wrong_code" ? t("clinic.wrong_code") : t("clinic.after_end");
}
