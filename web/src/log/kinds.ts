// Made by web/make_types.py from server/plytide/bodies.py; not edited by hand.

/** What was done on the leg, in the words that the functional levels use. */
export interface ActivityBody {
  what: "level" | "stairs" | "curbs" | "uneven" | "slopes" | "varied_pace" | "run" | "carry" | "sport" | "work";
  minutes?: number | null;
}

/** A socket fitted by other means than socks: signed steps, or a reading with its unit. */
export interface AdjustBody {
  what: "dial" | "strap" | "vacuum" | "air_bladder" | "pad";
  by?: number | null;
  reading?: number | null;
  unit?: string | null;
}

/** One step of a break-in plan as the clinic gave it. */
export interface BreakInStep {
  minutes: number;
  times?: number;
  days?: number;
}

/** A change to socket or components: it begins a new fit period. */
export interface ChangeBody {
  what: "new_socket" | "test_socket" | "socket_adjusted" | "relief_added" | "padding" | "liner" | "suspension" | "foot" | "other";
  height?: number | null;
  angle?: number | null;
  note?: string;
}

/** Socket comfort, 0 worst imaginable to 10 best. */
export interface ComfortBody {
  score: number;
}

/** What kind of day it was; one a day, for no limb in particular. */
export interface DayBody {
  tags: ("hot" | "long_sitting" | "long_walk" | "travel" | "water" | "ill" | "dialysis" | "salty" | "period" | "other")[];
}

/** The prosthesis comes off. */
export type DoffBody = Record<never, never>;

/** The prosthesis goes on. `clicks`: how deep a pin lock seated. */
export interface DonBody {
  total?: number | null;
  socks?: string[] | null;
  clicks?: number | null;
}

/** One thing seen or felt on the skin. `height` and `angle` are null where it is the whole limb. */
export interface Finding {
  what: "redness" | "blister" | "broken_blister" | "open" | "drainage" | "smell" | "hot" | "swollen" | "spreading" | "purple" | "black" | "pale_cold" | "cold_wet_end" | "rash" | "thickened" | "itch" | "numb" | "weak";
  height?: number | null;
  angle?: number | null;
  fade_min?: number | null;
  still_red?: boolean;
  blanches?: boolean | null;
  size_mm?: number | null;
}

/** A set of tape measurements, and who took them. */
export interface GirthBody {
  marks: GirthMark[];
  by: "self" | "clinic";
}

/** One level of the tape: distance from the limb's end and girth there, in cm. */
export interface GirthMark {
  from_end_cm: number;
  girth_cm: number;
}

/** One limb: where it ends and how its socket holds on and is fitted. */
export interface LimbProfile {
  side: "left" | "right";
  level: "transtibial" | "transfemoral" | "knee_disarticulation";
  amputated_on?: string | null;
  suspension?: ("suction_valve" | "seal_liner" | "sleeve" | "pin_lock" | "lanyard" | "vacuum_pump" | "straps")[];
  fitted_by?: ("socks" | "dial" | "strap" | "vacuum" | "air_bladder" | "pads")[];
  end_bearing?: boolean;
  tender?: TenderPlace[];
  functional_level?: "K0" | "K1" | "K2" | "K3" | "K4" | null;
  length_cm?: number | null;
  girths?: GirthMark[];
}

/** Something went wrong with the leg or on the way. */
export interface MishapBody {
  what: "suction_lost" | "valve_opened" | "sleeve_leak" | "wet" | "twisted" | "part_failed" | "cannot_don" | "stumble" | "fall";
  hurt?: boolean;
  head?: boolean;
  cannot_stand?: boolean;
  note?: string;
}

/** What the wearer asks of the next socket; `firm` means not to be traded. */
export interface NeedBody {
  text: string;
  firm?: boolean;
  order?: number;
}

/** Free words. */
export interface NoteBody {
  text: string;
}

/** A way to go for the next socket, set against the needs (by their ids). */
export interface OptionBody {
  name: string;
  kind: "socket" | "suspension" | "liner" | "foot" | "cover";
  meets?: Record<string, "yes" | "partly" | "no" | "ask">;
  note?: string;
}

/** Sock ply after a change. Absolute, so a tap that gets lost harms one step only. */
export interface PlyBody {
  total: number;
  socks?: string[] | null;
  why?: "loose" | "end_pressure" | "tight" | "cannot_seat" | "planned" | "hot" | "rest" | "other" | null;
}

/** The wearer's own settings; the latest one stands. Limits are the clinic's: see the defaults' sources in data/. */
export interface ProfileBody {
  name?: string;
  limbs?: LimbProfile[];
  ply_watch?: number;
  ply_review?: number;
  ply_ceiling?: number;
  layers_max?: number;
  fade_limit_min?: number | null;
  higher_risk?: ("diabetes" | "circulation" | "feeling" | "immunity" | "dialysis" | "blood_thinner")[];
  day_starts?: number;
  units?: "metric" | "us";
  clinic_phone?: string;
  emergency_phone?: string;
  weeks_to_appointment?: number;
  weeks_to_socket?: number;
  break_in?: BreakInStep[];
}

/** A question for the appointment. */
export interface QuestionBody {
  text: string;
  order?: number;
}

/** A look at the skin. `clear` with no findings is an entry too: it says that someone looked. `end_unseen`: the end of the limb could not be looked at, so that what is said is of the rest. */
export interface SkinBody {
  clear: boolean;
  end_unseen?: boolean;
  findings?: Finding[];
  fever_c?: number | null;
  unwell?: ("vomiting" | "confusion" | "fast_heart" | "fast_breathing" | "faint" | "chest_pain" | "short_breath" | "coughing_blood" | "severe_pain")[];
}

/** A sock (or `count` alike) that the wearer owns. `mark` is the wearer's own label, never a colour code. */
export interface SockBody {
  name: string;
  ply: number;
  count?: number;
  mark?: string;
  pin_hole?: boolean;
  state?: "ready" | "wash" | "worn_out";
}

/** A sore place on the limb's surface; with `phantom` it is felt where the leg no longer is. */
export interface SoreBody {
  height: number;
  angle: number;
  intensity: number;
  feel?: "pressure" | "rub" | "pinch" | "burn" | "sharp" | "throb" | "numb" | null;
  phantom?: boolean;
}

/** A place the wearer or the clinic wants watched. */
export interface TenderPlace {
  height: number;
  angle: number;
  name?: string;
}

/** The wearer told the clinic of a sign (its `code`); the sign stays listed, with this date. */
export interface ToldBody {
  code: string;
  note?: string;
}

/** A day to pack for. */
export interface TripBody {
  date: string;
  hours: number;
  water?: boolean;
  note?: string;
}

/** An appointment with the clinic. */
export interface VisitBody {
  on: string;
  clinic?: string;
  purpose?: string;
}

/** What a body has, by kind. */
export interface Bodies {
  ply: PlyBody;
  don: DonBody;
  doff: DoffBody;
  adjust: AdjustBody;
  sore: SoreBody;
  skin: SkinBody;
  comfort: ComfortBody;
  mishap: MishapBody;
  change: ChangeBody;
  girth: GirthBody;
  day: DayBody;
  activity: ActivityBody;
  sock: SockBody;
  need: NeedBody;
  question: QuestionBody;
  option: OptionBody;
  trip: TripBody;
  visit: VisitBody;
  profile: ProfileBody;
  told: ToldBody;
  note: NoteBody;
}

export type Kind = keyof Bodies;
export type Limb = "left" | "right";

/** An entry as it is kept and travels, unknown fields and all. `at` UTC, `zone` IANA, `stamp` see stamp.ts. */
export interface EntryOf<K extends Kind> {
  id: string;
  kind: K;
  limb: Limb | null;
  at: string;
  zone: string;
  stamp: string;
  erased: boolean;
  body: Bodies[K];
}

/** Any entry; `kind` tells which. */
export type Entry = { [K in Kind]: EntryOf<K> }[Kind];

/** Kinds that are about one limb: their entries name it. */
export const LIMB_KINDS: ReadonlySet<string> = new Set(["adjust", "change", "comfort", "doff", "don", "girth", "mishap", "ply", "skin", "sore"]);

/** The longest free text, in characters, and the greatest sock total. */
export const TEXT_MAX = 2000;
export const PLY_MAX = 40;

/** The wearer's settings before any were made. */
export const PROFILE_DEFAULTS: Required<ProfileBody> = {"name": "", "limbs": [], "ply_watch": 8, "ply_review": 10, "ply_ceiling": 11, "layers_max": 3, "fade_limit_min": null, "higher_risk": [], "day_starts": 4, "units": "metric", "clinic_phone": "", "emergency_phone": "", "weeks_to_appointment": 3, "weeks_to_socket": 6, "break_in": []};
