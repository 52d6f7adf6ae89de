// More: every screen that is not on the first one, one line each.
import type { Words } from "..";

export const more = {
  title: "More",
  log: "Log",
  read: "Look back",
  clinic: "Clinic",
  phone: "This phone and you",
  day: "Day’s log",
  day_small: "every entry of a day; put right or take out",
  pattern: "Pattern",
  pattern_small: "weeks and months: ply, soreness, skin, hours",
  signs: "Signs",
  signs_small: "what stands, why, and what to do",
  attention: "Needs attention",
  attention_small: "entries the server sent back",
  attention_none: "nothing waits",
  settings: "Settings",
  settings_small: "leg, clinic’s limits, numbers, hand, colours",
  pair: "Other devices and server",
  pair_small: "pair, see what is sent, add a device",
  about: "About and limits",
  about_small: "what this is not; licences",
  first: "Set up again",
  first_small: "leg, fitting, socks, clinic",
} satisfies Words;
