// The areas of the catalogue. A new screen adds its file in words/en/ and one line here.
import type { Words } from ".";

const areas = {
  common: () => import("./en/common").then((m) => m.common),
  today: () => import("./en/today").then((m) => m.today),
  entry: () => import("./en/entry").then((m) => m.entry),
  more: () => import("./en/more").then((m) => m.more),
  settings: () => import("./en/settings").then((m) => m.settings),
  pair: () => import("./en/pair").then((m) => m.pair),
  first: () => import("./en/first").then((m) => m.first),
  stack: () => import("./en/stack").then((m) => m.stack),
  socks: () => import("./en/socks").then((m) => m.socks),
  way: () => import("./en/way").then((m) => m.way),
  quick: () => import("./en/quick").then((m) => m.quick),
  pattern: () => import("./en/pattern").then((m) => m.pattern),
  sore: () => import("./en/sore").then((m) => m.sore),
  limb: () => import("./en/limb").then((m) => m.limb),
  places: () => import("./en/places").then((m) => m.places),
  signs: () => import("./en/signs").then((m) => m.signs),
  clinic: () => import("./en/clinic").then((m) => m.clinic),
  about: () => import("./en/about").then((m) => m.about),
};

export type Areas = { [A in keyof typeof areas]: Awaited<ReturnType<(typeof areas)[A]>> };

export const load = (area: keyof Areas): Promise<Words> => areas[area]();
