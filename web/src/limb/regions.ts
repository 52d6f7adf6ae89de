// What places on the limb are called, and in which order a list names them.
import { mod, RAD, type Spot } from "./geometry";
import { SIDES, table, type Level, type Region, type View } from "./table";
import { frame } from "./views";

const area = (r: Region) => (r.height[1] - r.height[0]) * width(r);
const width = (r: Region) => mod(r.angle[1] - r.angle[0], 360) || 360;

/** The table's regions under a spot, the smallest (the one to name) first. */
export const regionsAt = (level: Level, { height, angle }: Spot): Region[] =>
  table.levels[level].regions
    .filter((r) => r.height[0] <= height && height <= r.height[1] && mod(angle - r.angle[0], 360) <= width(r))
    .sort((a, b) => area(a) - area(b));

/** The id of the place: the smallest region there, or else its quarter and third, such as front_lower. */
export function regionId(level: Level, spot: Spot): string {
  const hit = regionsAt(level, spot)[0];
  if (hit) return hit.id;
  const quarter = SIDES[Math.floor(mod(spot.angle + 45, 360) / 90)]!;
  return `${quarter}_${["lower", "middle", "upper"][Math.min(2, Math.floor(spot.height * 3))]!}`;
}

/** The middle of a region: what choosing it from a list marks. */
export const centre = (r: Region): Spot => ({ height: (r.height[0] + r.height[1]) / 2, angle: mod(r.angle[0] + width(r) / 2, 360) });

/**
 * The regions to name for a view, as one would read them off: from the top down, and on the end front to back. A region
 * stands under the view that shows its middle best; one with its middle well on the end stands under the end as well.
 */
export function regionsOf(level: Level, view: View): Region[] {
  const pictures = frame(level, "left"), cap = pictures.limb.end / pictures.limb.brim;
  const forward = (r: Region) => Math.cos(centre(r).angle * RAD);
  return table.levels[level].regions
    .filter((r) => (view === "end" ? centre(r).height < cap * 0.8 : pictures.bestView(centre(r)) === view))
    .sort((a, b) => (view === "end" ? forward(b) - forward(a) : centre(b).height - centre(a).height));
}
