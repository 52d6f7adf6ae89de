// Made by web/make_types.py from server/plytide/insight/shape.py; not edited by hand.

/** The peak ply to expect when a socket ordered now would be back. */
export interface AtDelivery {
  date: string;
  p10: number;
  p50: number;
  p90: number;
}

/** What to take along: the smallest set that makes every target from now to the forecast's upper end. */
export interface Carry {
  date: string;
  socks: string[];
  covers: [number, number];
  missing: number[];
  rests_on: string;
}

/** A change, and what was different after it. */
export interface Compare {
  change_id: string;
  what: string;
  at: string;
  measures: Measure[];
}

/** One local day of one limb. None where nothing was logged that says so; never zero in its place. */
export interface DaySummary {
  date: string;
  zone: string;
  start: number | null;
  peak: number | null;
  peak_at: string | null;
  end: number | null;
  mean: number | null;
  worn_h: number | null;
  on_at: string | null;
  off_at: string | null;
  changes: number;
  logged: boolean;
  partial: boolean;
  steps: [number, number][];
  off: [number, number][];
  gaps: Gap[];
  sore_worst: number | null;
  sore_marks: number;
  comfort: number | null;
  skin: "clear" | "finding" | null;
  mishaps: number;
  tags: string[];
}

/** From one change to the next. */
export interface FitPeriod {
  change_id: string | null;
  what: string | null;
  since: string;
  until: string | null;
  days: number;
}

/** Other ways of fitting, read the way ply is: dial, strap, vacuum, air_bladder, pad by their reading, or by steps since donning where none is read; clicks of a pin lock by how deep it seated. `days` of the present fit. */
export interface Fitting {
  what: string;
  days: number;
  usual: Usual | Silent;
  trend: Heading | Silent;
  latest: number | null;
  shifts?: Shift[];
  compare?: Compare[];
  by_day?: [string, number][];
}

/** The peak of the day, given all that is known at `now`. `more`: the chance of needing more than is on now; before the day's first donning, more than at the last day's start. `hits`: of the last 30 forecasts, made 2 hours after donning (tomorrow's: the day before) from the days before alone, how many named the peak in their `likely` interval. */
export interface Forecast {
  date: string;
  peak: Record<string, number>;
  likely: Interval;
  wide: Interval;
  more: number;
  more_words: string;
  basis_days: number;
  grade: "rough" | "normal";
  hits: [number, number];
}

/** A stretch that the log cannot speak for: `why` is a code such as no_doff, no_don, no_log. */
export interface Gap {
  start: string;
  end: string;
  why: string;
}

/** Volume by truncated cones, and the change against the same measurer's earlier tape. */
export interface GirthPart {
  at: string;
  by: string;
  volume_ml: number | null;
  against: string | null;
  change_pct: number | null;
  marks: ([number, number, number | null])[];
  words: string;
}

/** Where one number a day is heading within the present fit. `low` and `high` hold `per_week` 19 times in 20. */
export interface Heading {
  since: string;
  basis_days: number;
  per_week: number;
  low: number;
  high: number;
  level: number;
  words: string;
}

/** Heat on the limb's surface, for drawing. */
export interface HeatPoint {
  height: number;
  angle: number;
  value: number;
}

/** Whole-ply interval with the mass it really holds. */
export interface Interval {
  low: number;
  high: number;
  mass: number;
  words: string;
}

/** Everything about one limb. */
export interface LimbSummary {
  on: On | null;
  off_since: string | null;
  days: DaySummary[];
  usual: Usual | Silent;
  forecast: Forecast | Silent;
  tomorrow: Forecast | Silent;
  trend: Trend | Silent;
  periods: FitPeriod[];
  shifts: Shift[];
  compare: Compare[];
  spots: Spot[];
  phantom: Spot[];
  heat: HeatPoint[];
  skin: SkinPart;
  socks: SocksPart;
  fittings: Fitting[];
  girth: GirthPart | null;
  signs: Sign[];
}

/** One number a day before and after a change; None bounds where there are too few days. */
export interface Measure {
  name: string;
  before: number | null;
  after: number | null;
  shift: number | null;
  low: number | null;
  high: number | null;
  n_before: number;
  n_after: number;
}

/** What is on the limb at `now`. */
export interface On {
  total: number | null;
  socks: string[] | null;
  since: string;
  worn_h: number;
}

/** What the log shows for one phrase of the functional levels; never a level. */
export interface Phrase {
  level: string;
  phrase: string;
  days: number;
  weeks: number;
  times: number;
}

/** Dates by which the ceiling is reached in 10, 50, 90 per cent of paths; None beyond the horizon. */
export interface Reach {
  p10: string | null;
  p50: string | null;
  p90: string | null;
}

/** A sudden shift of start or peak; `question` asks whether a change went unlogged. */
export interface Shift {
  code: "limb_smaller" | "limb_bigger" | "unlogged_change" | "wear_falling";
  date: string;
  size: number;
  question: string | null;
}

/** A warning sign: what was entered, which rule it meets, what to do, where the rule comes from. */
export interface Sign {
  code: string;
  level: "emergency" | "same_day" | "review" | "watch";
  since: string;
  evidence: string[];
  title: string;
  entered: string;
  do: string[];
  keep_off: boolean;
  source: string;
  told: string | null;
}

/** A part that says nothing, and why. `code` names the reason, `days` how many days there were. */
export interface Silent {
  reason: string;
  code: string;
  days: number;
}

/** Skin checks: how many, when last, and the places with findings. */
export interface SkinPart {
  checks: number;
  last: string | null;
  last_clear: boolean | null;
  limit_min: number;
  places: SkinPlace[];
}

/** Findings at one place over time. */
export interface SkinPlace {
  region: string;
  plain: string;
  trade: string;
  height: number | null;
  angle: number | null;
  what: string[];
  days: number;
  first: string;
  last: string;
  fades: [string, number][];
  at_sore: boolean;
  at_tender: boolean;
}

/** Hours a composition was worn lately. `plies`: inner first. */
export interface SockUse {
  plies: number[];
  total: number;
  hours: number;
}

/** The sock drawer read against the day. */
export interface SocksPart {
  wear: Stack[];
  carry: Carry | null;
  used: SockUse[];
}

/** A cluster of sore marks on the limb's surface. */
export interface Spot {
  region: string;
  plain: string;
  trade: string;
  height: number;
  angle: number;
  days: number;
  marks: number;
  first: string;
  last: string;
  worst: number;
  latest: number;
  feels: string[];
  state: "new" | "known" | "healed";
  recurring: boolean;
  with_ply: WithPly | null;
  by_day?: [string, number][];
}

/** Socks that make a total, inner first. */
export interface Stack {
  total: number;
  stacks: string[][];
}

/** The whole reading at one moment. `limbs` by side. */
export interface Summary {
  now: string;
  seq: number;
  limbs: Record<string, LimbSummary>;
  activity: Phrase[];
  signs: Sign[];
}

/** Heading of the daily peak, and when it may reach the ceiling: most days of a week at it. */
export interface Trend {
  since: string;
  basis_days: number;
  per_week: number;
  low: number;
  high: number;
  level: number;
  words: string;
  ceiling: number;
  reach: Reach | null;
  chance: Record<string, number>;
  book_by: string | null;
  at_delivery: AtDelivery | null;
}

/** Ply by hours since donning over the present fit period: 10, 50 and 90 per cent of days. */
export interface Usual {
  basis_days: number;
  hours: number[];
  p10: number[];
  p25: number[];
  p50: number[];
  p75: number[];
  p90: number[];
  kind: "all" | "weekday" | "day_off";
  now?: UsualNow | null;
}

/** Today against the usual, at this hour since donning. */
export interface UsualNow {
  hour: number;
  total: number;
  usual: number;
  above: number;
}

/** Soreness on days when ply was low or high for the wearer: rates with Wilson intervals. */
export interface WithPly {
  low_days: number;
  low_sore: number;
  low_rate: [number, number, number];
  other_days: number;
  other_sore: number;
  other_rate: [number, number, number];
  ratio: number | null;
  p: number | null;
  words: string;
}

/** Whether a part of the summary says nothing; it then says why. */
export const isSilent = (part: object): part is Silent => "reason" in part;
