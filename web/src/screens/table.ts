// The one table of screens other than Today. A new screen adds a line here and its words in words/en/rest.ts; it is then
// reached at #/<path> and listed under More. All of them are fetched as one file when the first is wanted: pieces would
// each compress for themselves, and share more than they differ in.
import type { ComponentType } from "preact";
import "../parts/icons";
import type { ScreenProps } from "../nav";
import type { IconName } from "../parts/Icon";
import { About } from "./About";
import { Attention } from "./Attention";
import { BreakIn } from "./BreakIn";
import { Clinic } from "./Clinic";
import { Data } from "./Data";
import { Day } from "./Day";
import { EntryEdit } from "./EntryEdit";
import { FirstRun } from "./FirstRun";
import { Help } from "./Help";
import { Log } from "./Log";
import { More } from "./More";
import { OtherSock } from "./OtherSock";
import { Pack } from "./Pack";
import { Pair } from "./Pair";
import { Pattern } from "./Pattern";
import { Settings } from "./Settings";
import { Signs } from "./Signs";
import { Skin } from "./Skin";
import { Socks } from "./Socks";
import { Sore } from "./Sore";
import { Visit } from "./Visit";
import { Tender } from "./Tender";
import { WhichWay } from "./WhichWay";

export type Screen = {
  path: string;
  View: ComponentType<ScreenProps>;
  /** Its place under More, with the words `more.<path>` and `more.<path>_small`; none if it stands at the foot of
   *  every screen or is reached from elsewhere. */
  more?: { group: "log" | "read" | "clinic" | "phone"; icon: IconName };
};

export const SCREENS: readonly Screen[] = [
  { path: "more", View: More },
  { path: "sore", View: Sore },
  { path: "skin", View: Skin },
  { path: "stack", View: OtherSock },
  { path: "entry", View: EntryEdit },
  { path: "log", View: Log, more: { group: "log", icon: "plus" } },
  { path: "pack", View: Pack, more: { group: "log", icon: "bag" } },
  { path: "socks", View: Socks, more: { group: "log", icon: "drop" } },
  { path: "tender", View: Tender, more: { group: "log", icon: "spot" } },
  { path: "breakin", View: BreakIn, more: { group: "log", icon: "steps" } },
  { path: "way", View: WhichWay, more: { group: "log", icon: "ways" } },
  { path: "link", View: Clinic, more: { group: "clinic", icon: "link" } },
  { path: "visit", View: Visit, more: { group: "clinic", icon: "day" } },
  { path: "day", View: Day, more: { group: "read", icon: "list" } },
  { path: "pattern", View: Pattern, more: { group: "read", icon: "chart" } },
  { path: "signs", View: Signs, more: { group: "read", icon: "eye" } },
  { path: "settings", View: Settings, more: { group: "phone", icon: "gear" } },
  { path: "pair", View: Pair, more: { group: "phone", icon: "phone" } },
  { path: "data", View: Data, more: { group: "phone", icon: "copy" } },
  { path: "attention", View: Attention, more: { group: "phone", icon: "phone_bad" } },
  { path: "first", View: FirstRun, more: { group: "phone", icon: "check" } },
  { path: "help", View: Help, more: { group: "phone", icon: "help" } },
  { path: "about", View: About, more: { group: "phone", icon: "info" } },
];
