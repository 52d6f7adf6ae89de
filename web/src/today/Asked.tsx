// The one question a link may lead to: log the same again, or what to do where the leg is off.
import { TextButton } from "../parts/buttons";
import { t } from "../words";
import { answer, asked } from "./outside";

export function AskedRow() {
  const question = asked.value;
  if (!question) return null;
  const what = t(`today.link_${question.what}`);
  return (
    <div class="asked" role="alertdialog" aria-label={t("today.ask")}>
      <p>{t(question.why === "again" ? "today.ask_again" : "today.link_leg_off", { what })}</p>
      <div class="acts">
        {question.why === "again" && <TextButton onClick={() => answer(true)}>{t("today.ask_yes")}</TextButton>}
        <TextButton onClick={() => answer(false)}>{t(question.why === "again" ? "today.ask_no" : "common.done")}</TextButton>
      </div>
    </div>
  );
}
