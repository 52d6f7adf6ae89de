// The calendar's secret address: shown when asked for, copied, ended.
import { useState } from "preact/hooks";
import { calendarAddress, endCalendar } from "../../log/data";
import { BigButton, TextButton } from "../../parts/buttons";
import { t } from "../../words";

export function CalendarPart() {
  const [url, setUrl] = useState<string | null>(null);
  const [said, setSaid] = useState("");
  const show = () => calendarAddress().then((made) => { setUrl(made); setSaid(""); }, () => setSaid(t("data.failed")));
  const end = () => endCalendar().then(() => { setUrl(null); setSaid(t("data.calendar_ended")); }, () => setSaid(t("data.failed")));
  const copy = () => navigator.clipboard.writeText(url!).then(() => setSaid(t("data.copied")), () => setSaid(t("data.copy_failed")));
  return (
    <section class="field">
      <h2>{t("data.calendar")}</h2>
      <p class="small quiet">{t("data.calendar_what")}</p>
      {url ? (
        <div class="card">
          <p class="small address">{url}</p>
          <div class="link-acts">
            <TextButton icon="copy" onClick={() => void copy()}>{t("data.calendar_copy")}</TextButton>
            <TextButton icon="stop" onClick={() => void end()}>{t("data.calendar_end")}</TextButton>
          </div>
          <p class="small quiet">{t("data.calendar_secret")}</p>
        </div>
      ) : <BigButton out onClick={() => void show()}>{t("data.calendar_make")}</BigButton>}
      <p role="status" class={said ? "" : "unseen"}>{said}</p>
    </section>
  );
}
