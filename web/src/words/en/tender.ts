// Tender places and reliefs, marked by the wearer on their own limb.
import type { Words } from "../shape";

export const tender = {
  title: "Tender places",
  what: "Places to be watched, and reliefs cut into the socket. They show on every drawing of this limb.",
  tap: "Tap the place.",
  choose: "Choose the place.",
  kind: "What is there",
  place: "Tender place",
  relief: "Relief",
  name: "What you call it",
  name_hint: "may stay empty",
  add: "Mark this place",
  need_place: "Tap a place first.",
  need_choice: "Choose a place first.",
  full: "50 places are marked; take one out first.",
  marked: "Marked",
  none: "None marked yet.",
  remove: "Take out",
  remove_of: "Take out: {what}",
  done: "Marked: {what}",
  taken: "Taken out: {what}",
  no_leg: "Say first which leg and where the limb ends; the drawing depends on it.",
  leg: "Say which leg",
} satisfies Words;
