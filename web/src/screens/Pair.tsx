// Pairing with a server: the code, what will be sent, how sending stands, the devices of the logbook.
import { entries } from "../log/book";
import { syncState } from "../log/talk";
import type { ScreenProps } from "../nav";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Troubles } from "../parts/Troubles";
import { WaysOn } from "../parts/WaysOn";
import { t } from "../words";
import { CodeField, usePairing } from "./pair/CodeField";
import { Devices } from "./pair/Devices";
import { SendState } from "./pair/SendState";

export function Pair({ at: [code = ""] }: ScreenProps) {
  const { paired, talk } = syncState.value;
  const pairing = usePairing(code);
  const again = paired && talk === "pair_again";
  const asks = !paired || again || code !== "";
  const carries = !paired && entries.value.length > 0;
  return (
    <Page title={t("pair.title")} back={{ href: "#/more", name: t("today.more") }}
      touch={
        <>
          {asks && (
            <BigButton tall onClick={() => void pairing.pair()} disabled={pairing.busy}>
              {t(pairing.busy ? "pair.pairing" : carries || again ? "pair.pair_and_send" : "pair.pair")}
            </BigButton>
          )}
          <WaysOn current="pair" />
        </>
      }>
      <Troubles />
      {!paired && <p><b>{t("pair.alone")}</b> {t("pair.alone_what")}</p>}
      {again && <p><b>{t("pair.again")}.</b> {t("pair.again_what")}</p>}
      {asks && <CodeField pairing={pairing}>{!paired && <p>{carries ? t("pair.carry", { n: entries.value.length }) : t("pair.carry_none")}</p>}</CodeField>}
      {paired && <SendState />}
      {paired && !again && <Devices />}
    </Page>
  );
}
