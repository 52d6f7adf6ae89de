// Other sock: which socks are on, inner to outer.
import type { Words } from "../shape";

export const stack = {
  title_on: "Which socks are on?",
  title_off: "Put on which socks?",
  on: "On, outer first",
  none_on: "None yet. The first one you add lies next to the liner.",
  take: "Take away {name}",
  take_word: "Take away",
  add: "Add as the outermost",
  none_owned: "You have not said which socks you own.",
  own: "Say which socks you own",
  free: { one: "1 free", other: "{n} free" },
  all_on: "all on",
  wash: "in the wash",
  worn_out: "worn out",
  innermost: "next to the liner",
  outermost: "outermost",
  save_on: "{n} ply on",
  save_off: "Put on, {n} ply",
  order: "{list}, inner first",
  nothing: "no socks",
  many: "{n} socks at once; your clinic’s most is {most}.",
  total: "Total without names",
} satisfies Words;
