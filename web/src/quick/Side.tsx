// Which leg a form speaks of, where there are two.
import { settings } from "../log/book";
import { Segment } from "../parts/choices";
import { setPrefs } from "../prefs";
import { sides } from "../today/fits";
import { t } from "../words";
import { shownLimb } from "./form";

export function Side() {
  if (sides(settings.value).length < 2) return null;
  return (
    <Segment label={t("common.side")} value={shownLimb()} onPick={(side) => setPrefs({ side })}
      options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }]} />
  );
}
