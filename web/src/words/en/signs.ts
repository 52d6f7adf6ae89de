// Signs: each with what was entered, the rule's source, what to do, and whom to call.
import type { Words } from "../shape";

export const signs = {
  title: "Signs",
  none: "No sign stands.",
  none_more: "Signs are worked out from what is entered, when this phone has been in touch with its server.",
  none_alone: "What one entry shows stands here at once. Signs over several days need a server to work them out, and this phone is not paired with one.",
  none_not: "This is no all-clear: look at your skin every day.",
  made: "Worked out {when}.",
  entered: "What was entered",
  evidence: "The entries",
  source: "Where the rule comes from",
  since: "since {day}",
  do: "What to do",
  told: "Told the clinic {day}.",
  tell: "I have told the clinic",
  tell_again: "Told them again",
  not_told: "The clinic has not been told yet.",
  gone: "This sign no longer stands.",
  not_a_diagnosis: "A sign says that an entry meets a rule. It is not a diagnosis. Your clinic decides.",
  soreness_of: "soreness of {n}",
  less_than_a_ply: "less than a ply",
  older: "{n} older",
} satisfies Words;
