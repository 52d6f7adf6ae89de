// Places in words, and the limb of a profile as the pictures need it.
import { settings } from "../log/book";
import type { Limb } from "../log/kinds";
import { lang, t } from "../words";
import { sizeOf, TYPICAL, type Size, type Spot } from "./geometry";
import { regionId, regionsAt } from "./regions";
import type { Level } from "./table";

/** What a place is called. Needs the words of `places`. */
export function placeName(level: Level, spot: Spot): string {
  const hit = regionsAt(level, spot)[0];
  return hit ? regionName(level, hit.id) : t(`places.${regionId(level, spot)}`);
}

export const regionName = (level: Level, id: string): string => t(`places.${level}_${id}`);

export type OwnLimb = { side: Limb; level: Level; size: Size; tender: readonly (Spot & { name?: string })[] };

/** The wearer's limb on a side; one below the knee of typical size while the profile does not say. */
export function ownLimb(side: Limb): OwnLimb {
  const found = settings.value.limbs.find((limb) => limb.side === side);
  return found
    ? { side, level: found.level, size: sizeOf(found), tender: found.tender ?? [] }
    : { side, level: "transtibial", size: TYPICAL, tender: [] };
}

/** A place the server names (in English) in the language spoken. */
export function ownPlace(side: Limb, { plain, height, angle }: { plain: string; height: number | null; angle: number | null }): string {
  if (lang.value === "en") return plain;
  return height === null || angle === null ? t("skin.whole_limb") : placeName(ownLimb(side).level, { height, angle });
}
