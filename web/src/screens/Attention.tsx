// Entries the server could not keep as they are: what, why, and one thing to do. They are kept here until then.
import { attention } from "../log/book";
import { href } from "../nav";
import { TextButton } from "../parts/buttons";
import { Icon } from "../parts/Icon";
import { Page } from "../parts/Page";
import { Said } from "../parts/Said";
import { WaysOn } from "../parts/WaysOn";
import { clock, longDay } from "../times";
import { localDay } from "../log/clock";
import { refusal, t } from "../words";
import { telling } from "../words/telling";

export function Attention() {
  const list = attention.value;
  return (
    <Page title={t("entry.attention_title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="attention" />}>
      <p>{t(list.length ? "entry.attention_what" : "entry.attention_none")}</p>
      {list.map(({ entry, code, why }) => (
        <section class="trouble" key={entry.id}>
          <Icon name="phone_bad" />
          <p>
            <b>{telling(entry).what}</b>, {longDay(localDay(entry.at, entry.zone, 0))}, {clock(entry.at, entry.zone)}
            <small><Said text={why} own={refusal({ code, why })} /></small>
          </p>
          <TextButton href={href("entry", entry.id)}>{t(code === "bad_time" ? "entry.fix_time" : "entry.fix")}</TextButton>
        </section>
      ))}
    </Page>
  );
}
