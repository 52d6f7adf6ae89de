// The link for the clinic: `#/link` makes one and lists those made, `#/link/<id>` is one of them.
import { useEffect, useState } from "preact/hooks";
import { links, type Link } from "../log/clinic";
import { syncState } from "../log/talk";
import { href, type ScreenProps } from "../nav";
import { BigButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { t } from "../words";
import { LinkPage } from "./clinic/LinkPage";
import { MakePage } from "./clinic/MakePage";

export function Clinic({ at: [id] }: ScreenProps) {
  const { list, failed, again } = useLinks(syncState.value.paired);
  if (!syncState.value.paired) return <Unpaired />;
  return id ? <LinkPage id={id} list={list} failed={failed} again={again} /> : <MakePage list={list} failed={failed} />;
}

function Unpaired() {
  return (
    <Page title={t("clinic.title")} back={{ href: "#/more", name: t("today.more") }}
      touch={<BigButton href={href("pair")} icon="phone">{t("clinic.alone_pair")}</BigButton>}>
      <p><b>{t("clinic.alone")}</b> {t("clinic.alone_what")}</p>
    </Page>
  );
}

/** The links the server has; asked for anew whenever the screen comes into view, for somebody may have opened one. */
function useLinks(paired: boolean) {
  const [list, setList] = useState<Link[] | null>(null);
  const [failed, setFailed] = useState(false);
  const again = () => links().then((found) => { setList(found); setFailed(false); }, () => setFailed(true));
  useEffect(() => {
    if (!paired) return;
    const look = () => { if (document.visibilityState === "visible") void again(); };
    look();
    document.addEventListener("visibilitychange", look);
    return () => document.removeEventListener("visibilitychange", look);
  }, [paired]);
  return { list, failed, again };
}
