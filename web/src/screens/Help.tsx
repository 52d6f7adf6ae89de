// Help: what the screen one came from is for, what holds everywhere, whom to call. Reached from the end of every screen.
import { settings } from "../log/book";
import { href, type ScreenProps } from "../nav";
import { BigButton, telephone } from "../parts/buttons";
import { Page } from "../parts/Page";
import { WaysOn } from "../parts/WaysOn";
import { t, type Key } from "../words";
import { SCREENS } from "./table";

export function Help({ at: [path = "today", ...more] }: ScreenProps) {
  const from = SCREENS.some((screen) => screen.path === path) ? path : "today";
  const back = from === "help" ? { href: href("more"), name: t("today.more") } : { href: href(from, ...more), name: nameOf(from) };
  const { clinic_phone, emergency_phone } = settings.value;
  return (
    <Page title={t("help.title")} back={back} touch={<WaysOn current="help" />}>
      <div class="prose">
        <h2>{from === "help" ? t("help.here") : nameOf(from)}</h2>
        <p>{t(`help.${from}` as Key)}</p>
        <h2>{t("help.everywhere")}</h2>
        <p>{t("help.offline")}</p>
        <p>{t("help.undo")}</p>
        <p><b>{t("help.not")}</b></p>
        <h2>{t("help.call")}</h2>
        <p>{t("help.call_what")}</p>
        {clinic_phone && <BigButton out icon="call" href={telephone(clinic_phone)} small={clinic_phone}>{t("help.clinic")}</BigButton>}
        {emergency_phone && <BigButton out icon="call" href={telephone(emergency_phone)} small={emergency_phone}>{t("help.emergency")}</BigButton>}
        {!(clinic_phone && emergency_phone) && <BigButton out href={href("settings")}>{t("help.numbers")}</BigButton>}
      </div>
    </Page>
  );
}

const ELSEWHERE: Readonly<Record<string, Key>> = {
  today: "common.today", more: "today.more", sore: "today.sore", skin: "today.skin", stack: "today.other_sock", entry: "entry.title",
};

/** What a screen is called: as under More, where it is listed there. */
const nameOf = (path: string): string => t(ELSEWHERE[path] ?? (`more.${path}` as Key));
