// Days as strands from start to peak, the averages through them, the ceiling, and what lies ahead as a pale wedge.
import type { Trend } from "../log/summary";
import { useMeasure, type Measure } from "../parts/measure";
import { monthDay } from "../times";
import { t } from "../words";
import { average, runs, type Slot } from "./days";

type Props = { slots: readonly Slot[]; trend: Trend | null; ceiling: number; label: string };

/** Days drawn ahead of today when there is a trend to draw. */
const AHEAD = 7;

export function TrendFigure(props: Props) {
  const [frame, measure] = useMeasure<HTMLElement>();
  return <figure class="bleed" ref={frame}>{measure && measure.width > 120 && <Drawing {...props} {...measure} />}</figure>;
}

function Drawing({ slots, trend, ceiling, label, width, textScale }: Props & Measure) {
  const size = 14 * textScale;
  const margin = 16;
  const left = margin + 22 * textScale;
  const right = width - margin;
  const peaks = slots.flatMap(({ day }) => (day?.peak != null ? [day.peak] : []));
  const top = Math.max(ceiling + 1, ...peaks);
  const row = Math.min(12, 170 / top);
  const head = size + 10;
  const floor = head + row * top;
  const step = (right - left) / (slots.length + (trend ? AHEAD : 1));
  const X = (i: number) => left + (i + 0.5) * step;
  const Y = (ply: number) => floor - ply * row;
  const last = slots.length - 1;
  const starts = average(slots, "start");
  const tops = average(slots, "peak");
  const height = Math.ceil(floor + size + 14);
  return (
    <svg class="chart" width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      {slots.map(({ day }, i) => !day && i < last && <path key={i} class="missing" d={`M${r(X(i))} ${r(Y(0))}V${r(Y(ceiling))}`} />)}
      {[4, 8, 12, 16].filter((ply) => ply < top && Math.abs(ply - ceiling) > 1).map((ply) => (
        <g key={ply}>
          <text x={left - 8} y={r(Y(ply) + size * 0.35)} font-size={size} text-anchor="end">{ply}</text>
          <path class="grid" d={`M${left} ${r(Y(ply))}H${right}`} />
        </g>
      ))}
      {trend && <Wedge trend={trend} from={X(last)} to={right} Y={Y} top={top} />}
      <path class="ceiling" d={`M${left} ${r(Y(ceiling))}H${right}`} />
      <text x={left - 8} y={r(Y(ceiling) + size * 0.35)} font-size={size} text-anchor="end">{ceiling}</text>
      <text x={left} y={r(Y(ceiling) - 7)} font-size={size}>{t("pattern.ceiling")}</text>
      {slots.map(({ day }, i) => day && day.start !== null && day.peak !== null && (
        <rect key={i} class={day.partial ? "open-day" : i > last - 4 ? "wool-2" : "past-2"} x={r(X(i) - strand(step) / 2)} y={r(Y(day.peak))}
          width={r(strand(step))} height={r(Math.max((day.peak - day.start) * row, strand(step)))} rx={r(strand(step) / 2)} />
      ))}
      {[tops, starts].map((line, which) => runs(line).map((run) => (
        <g key={`${which} ${run[0]![0]}`}>
          <path class="casing" d={path(run, X, Y)} />
          <path class={which ? "average thin" : "average"} d={path(run, X, Y)} />
        </g>
      )))}
      <path class="axis" d={`M${left} ${floor + 0.5}H${right}`} />
      {marks(slots.length, step, size).map((i) => (
        <g key={i}>
          <path class="axis" d={`M${r(X(i))} ${r(floor)}v5`} />
          <text x={r(Math.max(left, X(i) - size))} y={r(floor + size + 6)} font-size={size}>{monthDay(slots[i]!.date)}</text>
        </g>
      ))}
      <path class="now-line" d={`M${r(X(last))} ${r(floor)}v7`} />
      <text class="key" x={r(Math.min(X(last), right - size * 1.4))} y={r(floor + size + 6)} font-size={size} text-anchor="middle">{t("pattern.today")}</text>
    </svg>
  );
}

type WedgeProps = { trend: Trend; from: number; to: number; Y: (ply: number) => number; top: number };

/** A week ahead of the level as it stands: the middle as a dotted line, the slope's own interval as the wedge. */
function Wedge({ trend, from, to, Y, top }: WedgeProps) {
  const at = (slope: number) => r(Y(Math.min(top, Math.max(0, trend.level + (slope * AHEAD) / 7))));
  const start = r(Y(trend.level));
  return (
    <>
      <path class="ahead" d={`M${r(from)} ${start}L${r(to)} ${at(trend.high + 0.6)}V${at(trend.low - 0.6)}Z`} />
      <path class="ahead-line" d={`M${r(from)} ${start}L${r(to)} ${at(trend.per_week)}`} />
    </>
  );
}

const r = (n: number) => Math.round(n * 10) / 10;
const strand = (step: number) => Math.min(10, step * 0.66);

function path(run: readonly [number, number][], X: (i: number) => number, Y: (ply: number) => number): string {
  return run.map(([i, ply], n) => `${n ? "L" : "M"}${r(X(i))} ${r(Y(ply))}`).join("");
}

/** Whole weeks to name under the axis, as many as fit beside "today". */
function marks(count: number, step: number, size: number): number[] {
  const every = [7, 14, 28].find((days) => days * step > size * 4.6) ?? 28;
  return Array.from({ length: count }, (_, i) => i).filter((i) => i % every === 0 && (count - 1 - i) * step > size * 5);
}
