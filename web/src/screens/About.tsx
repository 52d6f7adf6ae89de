// What this is and is not, where the entries are, licences.
import { Page } from "../parts/Page";
import { WaysOn } from "../parts/WaysOn";
import { t } from "../words";

export function About() {
  const build = document.querySelector<HTMLMetaElement>('meta[name="plytide-build"]')?.content ?? "";
  return (
    <Page title={t("about.title")} back={{ href: "#/more", name: t("today.more") }} touch={<WaysOn current="about" />}>
      <div class="prose">
        <p>{t("about.what")}</p>
        <h2>{t("about.not_title")}</h2>
        <p><b>{t("about.not_watched")}</b></p>
        <p>{t("about.not_device")}</p>
        <p>{t("about.not_verified")} {t("about.clinic_wins")}</p>
        <h2>{t("about.data_title")}</h2>
        <p>{t("about.data_phone")}</p>
        <p>{t("about.data_third")}</p>
        <p>{t("about.data_loss")}</p>
        <h2>{t("about.sources_title")}</h2>
        <p>{t("about.sources")}</p>
        <p>{t("about.comfort")}</p>
        <h2>{t("about.licences_title")}</h2>
        <ul>
          <li>{t("about.own")}</li>
          <li>{t("about.font")}</li>
          <li>{t("about.code")}</li>
          <li>{t("about.loinc")}</li>
        </ul>
        {build && <p class="small quiet">{t("about.build", { build })}</p>}
      </div>
    </Page>
  );
}
