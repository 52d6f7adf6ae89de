// Erasing for good, on the server or on this phone: each asks once more and says what stays where.
import { useState } from "preact/hooks";
import { eraseHere, eraseThere } from "../../log/data";
import { syncState } from "../../log/talk";
import { TextButton } from "../../parts/buttons";
import { Row, Rows } from "../../parts/rows";
import { t } from "../../words";

export function ErasePart({ paired }: { paired: boolean }) {
  const [sure, setSure] = useState<"there" | "here" | null>(null);
  const [said, setSaid] = useState("");
  const { waiting } = syncState.value;
  async function erase() {
    if (sure === "here") return eraseHere();
    try {
      await eraseThere();
      setSaid(t("data.erased"));
    } catch {
      setSaid(t("data.failed"));
    }
    setSure(null);
  }
  return (
    <section class="field">
      <h2>{t("data.erase")}</h2>
      <Rows>
        {paired && <Row onClick={() => setSure("there")} small={t("data.erase_there_small")}>{t("data.erase_there")}</Row>}
        <Row onClick={() => setSure("here")} small={t("data.erase_here_small")}>{t("data.erase_here")}</Row>
      </Rows>
      {sure && (
        <div class="trouble said" role="alertdialog" aria-label={t(`data.erase_${sure}`)}>
          <p>{t(`data.erase_${sure}_sure`)} {sure === "here" && waiting > 0 && <b>{t("data.erase_here_waiting", { n: waiting })}</b>}</p>
          <div class="acts"><TextButton onClick={() => void erase()}>{t("data.erase_yes")}</TextButton><TextButton onClick={() => setSure(null)}>{t("common.cancel")}</TextButton></div>
        </div>
      )}
      <p role="status" class={said ? "" : "unseen"}>{said}</p>
    </section>
  );
}
