// What kind of day it is: one entry a day, for no leg in particular. Chips change it; Save keeps it.
import { useState } from "preact/hooks";
import { amend, entries, settings, todayDate } from "../log/book";
import { localDay } from "../log/clock";
import type { DayBody, EntryOf } from "../log/kinds";
import { go, href } from "../nav";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { Chips } from "../parts/choices";
import { t } from "../words";
import { BACK } from "./back";
import { lastLogged, log } from "./form";

type Tag = DayBody["tags"][number];
const ALL: readonly Tag[] = ["hot", "long_sitting", "long_walk", "travel", "water", "ill", "dialysis", "salty", "period", "other"];

/** Today's entry of this kind, if there is one: there is to be one a day, so it is changed rather than added to. */
function ofToday(): EntryOf<"day"> | undefined {
  return entries.value.findLast((e): e is EntryOf<"day"> => e.kind === "day" && localDay(e.at, e.zone, settings.value.day_starts) === todayDate());
}

export function KindOfDay() {
  const [standing] = useState(ofToday);
  const [tags, setTags] = useState<readonly Tag[]>(standing?.body.tags ?? []);
  const save = () => {
    if (!standing) return log("day", null, { tags: [...tags] });
    amend(standing, { body: { ...standing.body, tags: [...tags] } }).then(() => { lastLogged.value = null; }, () => {});
    go(href("log"));
  };
  return (
    <Page title={t("quick.day")} back={BACK()}
      touch={<BigButton tall disabled={tags.length === 0 && !standing} onClick={save}>{t("common.save")}</BigButton>}>
      <p>{t("quick.day_what")}</p>
      <Chips label={t("quick.day")} chosen={tags} onToggle={(tag) => setTags(tags.includes(tag) ? tags.filter((one) => one !== tag) : [...tags, tag])}
        options={ALL.map((tag) => ({ value: tag, label: t(tag === "hot" ? "entry.day_hot" : `entry.${tag}`) }))} />
    </Page>
  );
}
