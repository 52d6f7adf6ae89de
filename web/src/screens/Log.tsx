// Log something else: the small forms, and what was just logged with its Undo.
import type { FunctionComponent } from "preact";
import { erase } from "../log/book";
import type { EntryOf, Kind } from "../log/kinds";
import { href, type ScreenProps } from "../nav";
import { TextButton, UndoRow } from "../parts/buttons";
import type { IconName } from "../parts/Icon";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { Activity } from "../quick/Activity";
import { Change } from "../quick/Change";
import { Comfort } from "../quick/Comfort";
import { KindOfDay } from "../quick/KindOfDay";
import { lastLogged } from "../quick/form";
import { Mishap } from "../quick/Mishap";
import { Tape } from "../quick/Tape";
import { Words } from "../quick/Words";
import { clock } from "../times";
import { t } from "../words";
import { telling } from "../words/telling";

const FORMS: readonly { path: "comfort" | "mishap" | "day" | "activity" | "tape" | "change" | "note"; icon: IconName; Form: FunctionComponent }[] = [
  { path: "comfort", icon: "comfort", Form: Comfort },
  { path: "mishap", icon: "slip", Form: Mishap },
  { path: "day", icon: "sun", Form: KindOfDay },
  { path: "activity", icon: "stairs", Form: Activity },
  { path: "tape", icon: "tape", Form: Tape },
  { path: "change", icon: "tool", Form: Change },
  { path: "note", icon: "pen", Form: Words },
];

export function Log({ at: [path] }: ScreenProps) {
  const form = FORMS.find((one) => one.path === path);
  if (form) return <form.Form />;
  return (
    <Page title={t("quick.title")} back={{ href: "#/today", name: t("common.today") }} touch={<><Just /><WaysOn current="log" /></>}>
      <Rows>
        {FORMS.map(({ path, icon }) => <Row key={path} href={href("log", path)} icon={icon} small={t(`quick.${path}_small`)}>{t(`quick.${path}`)}</Row>)}
      </Rows>
    </Page>
  );
}

function Just() {
  const entry = lastLogged.value;
  if (!entry) return null;
  const undo = () => { erase(entry as EntryOf<Kind>).then(() => { lastLogged.value = null; }, () => {}); };
  return (
    <div role="status"><UndoRow said={t("quick.logged", { what: telling(entry).what, time: clock(entry.at, entry.zone) })} href={href("entry", entry.id)}>
      <TextButton onClick={undo}>{t("common.undo")}</TextButton>
    </UndoRow></div>
  );
}
