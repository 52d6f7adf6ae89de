// Pairing with a server: the code, what will be sent, how sending stands, the devices of the logbook.
import { entries } from "../log/book";
import { syncState } from "../log/sync";
import type { ScreenProps } from "../nav";
import { Page } from "../parts/Page";
import { Troubles } from "../parts/Troubles";
import { WaysOn } from "../parts/WaysOn";
import { t } from "../words";
import { CodeForm } from "./pair/CodeForm";
import { Devices } from "./pair/Devices";
import { SendState } from "./pair/SendState";

export function Pair({ at: [code = ""] }: ScreenProps) {
  const { paired, talk } = syncState.value;
  return (
    <Page title={t("pair.title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="pair" />}>
      <Troubles />
      {!paired && <p><b>{t("pair.alone")}</b> {t("pair.alone_what")}</p>}
      {paired && talk === "pair_again" && <p><b>{t("pair.again")}.</b> {t("pair.again_what")}</p>}
      {(!paired || talk === "pair_again" || code !== "") && <CodeForm first={code} held={entries.value.length} />}
      {paired && <SendState />}
      {paired && talk !== "pair_again" && <Devices />}
    </Page>
  );
}
