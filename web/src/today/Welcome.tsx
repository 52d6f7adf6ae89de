// On an empty log without a profile: what this is, and the way to say whose leg it is. Nothing waits for it.
import { profile, ready } from "../log/book";
import { TextButton } from "../parts/buttons";
import { t } from "../words";

export function Welcome() {
  if (!ready.value || profile.value) return null;
  return (
    <section class="card welcome" aria-label={t("today.welcome")}>
      <p><b>{t("today.welcome")}</b> {t("today.welcome_what")}</p>
      <TextButton href="#/first">{t("today.welcome_start")}</TextButton>
    </section>
  );
}
