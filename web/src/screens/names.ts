// Names for what entries speak of: places on the wearer's limb, socks by their plies.
import { ownLimb, placeName } from "../limb/names";
import { entries } from "../log/book";
import { drawer, plies } from "../today/stack";
import type { Names } from "../words/telling";

/** For `telling`; screens that use it need the words of `places`. */
export function names(): Names {
  const socks = drawer(entries.value);
  return {
    place: (limb, height, angle) => placeName(ownLimb(limb ?? "right").level, { height, angle }),
    stack: (ids) => (ids.length > 1 ? plies(ids, socks)?.join(" + ") ?? "" : ""), // one sock is its total
  };
}
