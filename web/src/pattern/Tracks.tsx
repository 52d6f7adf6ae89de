// Under the trend, on the same days: soreness by place, how long marks took to fade, hours on, mishaps.
import type { ComponentChildren } from "preact";
import { ownPlace } from "../limb/names";
import type { Limb } from "../log/kinds";
import type { LimbSummary } from "../log/summary";
import { useMeasure } from "../parts/measure";
import { number } from "../times";
import { t } from "../words";
import { meanHours, type Slot } from "./days";

type Props = { slots: readonly Slot[]; limb: LimbSummary; side: Limb };

/** At most this many sore places have a track of their own; the limb's drawing shows them all. */
const PLACES = 4;

export function Tracks({ slots, limb, side }: Props) {
  const first = slots[0]!.date;
  const spots = limb.spots.filter((spot) => spot.last >= first && spot.by_day).sort((a, b) => b.days - a.days).slice(0, PLACES);
  const fades = limb.skin.places.filter((place) => place.fades.some(([date]) => date >= first)).slice(0, 2);
  const mean = meanHours(slots);
  return (
    <div class="tracks">
      {spots.map((spot) => (
        <Track key={`${spot.region} ${spot.height}`} name={ownPlace(side, spot)} end={<b>{spot.latest}</b>}
          said={t("pattern.sore_said", { place: ownPlace(side, spot), days: spot.days, worst: spot.worst, latest: spot.latest })}>
          {(X) => <Dots slots={slots} values={spot.by_day!} X={X} size={(v) => 2.2 + v * 0.75} />}
        </Track>
      ))}
      {fades.map((place) => (
        <Track key={`fade ${place.plain}`} name={t("pattern.fade", { place: ownPlace(side, place) })}
          end={<><b>{number(place.fades.at(-1)![1])}</b> {t("pattern.minutes")}</>}
          said={t("pattern.fade_said", { place: ownPlace(side, place), latest: number(place.fades.at(-1)![1]), limit: number(limb.skin.limit_min) })}>
          {(X) => <Dots slots={slots} values={place.fades} X={X} size={(v) => Math.min(9, 2 + v / 4)} open={(v) => v <= limb.skin.limit_min} />}
        </Track>
      ))}
      <Track name={t("pattern.hours_on")} tall end={mean === null ? "" : <><b>{number(Math.round(mean * 10) / 10)}</b> {t("pattern.a_day")}</>}
        said={mean === null ? t("pattern.hours_none") : t("pattern.hours_said", { n: number(Math.round(mean * 10) / 10) })}>
        {(X, step) => <Hours slots={slots} X={X} step={step} />}
      </Track>
      {slots.some(({ day }) => day && day.mishaps > 0) && (
        <Track name={t("pattern.mishaps")} end={<b>{slots.reduce((sum, { day }) => sum + (day?.mishaps ?? 0), 0)}</b>}
          said={t("pattern.mishaps_said", { n: slots.reduce((sum, { day }) => sum + (day?.mishaps ?? 0), 0) })}>
          {(X) => <>{slots.map(({ day }, i) => !!day?.mishaps && <path key={i} class="mishap" d={`M${X(i) - 5} 7l10 10m0-10l-10 10`} />)}</>}
        </Track>
      )}
    </div>
  );
}

type TrackProps = {
  name: string;
  end: ComponentChildren;
  said: string;
  tall?: boolean;
  children: (X: (i: number) => number, step: number) => ComponentChildren;
};

function Track({ name, end, said, tall, children }: TrackProps) {
  const [frame, measure] = useMeasure<HTMLDivElement>();
  const height = tall ? 46 : 24;
  const step = measure ? (measure.width - 8) / 28 : 0;
  return (
    <div class="track">
      <span class="name" aria-hidden="true">{name}</span>
      <div class="line" ref={frame}>
        {measure && (
          <svg class="chart" width={measure.width} height={height} viewBox={`0 0 ${measure.width} ${height}`} role="img" aria-label={said}>
            {!tall && <path class="grid" d={`M0 12H${measure.width}`} />}
            {children((i) => 4 + (i + 0.5) * step, step)}
          </svg>
        )}
      </div>
      <span class="end" aria-hidden="true">{end}</span>
    </div>
  );
}

type DotProps = {
  slots: readonly Slot[];
  values: readonly [string, number][];
  X: (i: number) => number;
  size: (value: number) => number;
  open?: (value: number) => boolean;
};

function Dots({ slots, values, X, size, open }: DotProps) {
  const at = new Map(slots.map(({ date }, i) => [date, i]));
  return (
    <>
      {values.map(([date, value]) => {
        const i = at.get(date);
        return i !== undefined && <circle key={date} class={open?.(value) ? "dot open" : "dot"} cx={X(i)} cy={12} r={size(value)} />;
      })}
    </>
  );
}

/** Hours on as bars to a scale of 16 h, with 12 h marked; today's, which is not over, is open. */
function Hours({ slots, X, step }: { slots: readonly Slot[]; X: (i: number) => number; step: number }) {
  const tall = (hours: number) => Math.min(44, (hours * 44) / 16);
  const width = Math.min(8, step * 0.5);
  return (
    <>
      <path class="grid" d={`M0 ${45 - tall(12)}H${X(27) + step / 2}`} />
      {slots.map(({ day }, i) => day && day.worn_h !== null && (
        <rect key={i} class={day.partial ? "hours open" : "hours"} x={X(i) - width / 2} y={45 - tall(day.worn_h)} width={width} height={tall(day.worn_h)} />
      ))}
      <path class="axis" d={`M0 45.5H${X(27) + step / 2}`} />
    </>
  );
}
