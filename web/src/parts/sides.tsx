// Which leg a screen is about: the one its address names, or the one last shown, and the choice where there are two.
import { settings } from "../log/book";
import type { Limb } from "../log/kinds";
import { go, href } from "../nav";
import { prefs, setPrefs } from "../prefs";
import { sides } from "../today/fits";
import { t } from "../words";
import { Segment } from "./choices";

/** The side for a screen with this in its address. */
export function sideOf(named: string | undefined): Limb {
  if (named === "left" || named === "right") return named;
  const own = sides(settings.value);
  return own.includes(prefs.value.side) ? prefs.value.side : own[0]!;
}

/** Left or right, for those who have both or have not said which. `screen` is the screen's name. */
export function SideChoice({ screen, side }: { screen: string; side: Limb }) {
  if (sides(settings.value).length < 2) return null;
  const pick = (next: Limb) => { setPrefs({ side: next }); go(href(screen, next), true); };
  return (
    <Segment label={t("common.side")} value={side} onPick={pick}
      options={[{ value: "left", label: t("common.left") }, { value: "right", label: t("common.right") }]} />
  );
}
