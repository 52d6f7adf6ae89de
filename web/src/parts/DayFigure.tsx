// The figure of a day: wool for the socks, water for the usual, one scale. The day's blocks run into the stack on now.
// Drawn to the measured width; its text grows with the reader's.
import { useId, useRef } from "preact/hooks";
import { along, type Band } from "../today/reading";
import type { Wool } from "../today/strands";
import { t } from "../words";
import { KnitPatterns, shade } from "./knit";
import { hourTicks, r, smooth, stepsPath, type Point } from "./lines";
import { useMeasure, type Measure } from "./measure";

export type DayFigureProps = {
  wool: Wool;
  /** Hours since the leg first went on, at the right end of the day. */
  hours: number;
  band: Band | null;
  ceiling: number;
  /** What is on now, inner first; one block where the socks are not named. "off": worn last, not now; "ahead": the leg
   *  has not been on today, so the usual day lies ahead of what goes on next. */
  stack: readonly number[];
  state: "on" | "off" | "ahead";
  named: boolean;
  /** Drawn lower, where a sign stands above it and the buttons below would cover its floor. */
  low: boolean;
  label: string;
};

export function DayFigure(props: DayFigureProps) {
  const [frame, measure] = useMeasure<HTMLElement>();
  return <figure class="bleed day-figure" ref={frame}><i class="rem" />{measure && measure.width > 120 && <Drawing {...props} {...measure} />}</figure>;
}

function Drawing({ wool, hours, band, ceiling, stack, state, named, low, label, width, textScale }: DayFigureProps & Measure) {
  const id = useId();
  const size = 14 * textScale;
  const large = textScale > 1.2;
  const total = stack.reduce((a, b) => a + b, 0);
  const peak = Math.max(total, ...wool.lines.flat().map(([, ply]) => ply), ...(band?.high ?? [0]));
  const top = Math.max(ceiling, Math.ceil(peak));
  const small = low || width < 360;
  const row = Math.min(small ? 13 : 19.6, (small ? 160 : 236) / top);
  const margin = 16;
  const left = margin + 20 * textScale;
  const head = size * 1.6 + 6;
  const floor = head + row * top;
  const height = floor + size + 12;
  const labels = large ? margin : 62 + margin;
  const column = large ? 84 : 66;
  const ahead = state === "ahead";
  const right = width - (ahead ? margin : labels);
  const dayEnd = ahead ? right : right - column - 10;
  const stackLeft = ahead ? left : right - column;
  const scale = Math.max(hours, 1);
  const X = (hour: number) => left + ((dayEnd - left) * hour) / scale;
  const Y = (ply: number) => floor - ply * row;
  const before = useRef(stack.length);
  const rising = stack.length > before.current ? stack.length - 1 : -1;
  before.current = stack.length;
  const water = band && waterlines(band, scale, X, Y, right);
  return (
    <svg class="chart" width={width} height={Math.ceil(height)} viewBox={`0 0 ${width} ${Math.ceil(height)}`} role="img" aria-label={label}>
      <defs><KnitPatterns id={id} row={row} stitch={column / 7} x={stackLeft} y={floor} /></defs>
      {gridLines(ceiling, top).map((ply) => (
        <g key={ply}><path class="grid" d={`M${left} ${r(Y(ply))}H${right}`} /><text x={left - 8} y={r(Y(ply) + size * 0.35)} font-size={size} text-anchor="end">{ply}</text></g>
      ))}
      {water && <path class="band" d={water.area} />}
      {wool.strands.map(({ ply, base, from, to }) => {
        const x = X(from) + 0.5;
        const w = Math.max(X(to) - X(from) - 1, 2);
        const h = ply * row - 1.5;
        return (
          <g key={`${from} ${base}`}>
            <rect class={`past-${shade(ply)}`} x={r(x)} y={r(Y(base + ply) + 0.75)} width={r(w)} height={r(h)} rx={r(Math.min(6, w / 2, h / 2))} />
            {courses(ply, base).map((p) => <path key={p} class="course" d={`M${r(x + 1)} ${r(Y(p))}h${r(Math.max(w - 2, 0))}`} />)}
          </g>
        );
      })}
      {stack.map((ply, i) => {
        const base = stack.slice(0, i).reduce((a, b) => a + b, 0);
        const h = ply * row - 1.5;
        return (
          <rect key={`${i} ${ply} ${base}`} class={state !== "on" ? "hollow" : i === rising ? "rise" : ""} x={stackLeft} y={r(Y(base + ply) + 0.75)} width={column}
            height={r(h)} rx={r(Math.min(6, h / 2))} {...(state === "on" ? { fill: `url(#${id}${named ? shade(ply) : 2})` } : {})} />
        );
      })}
      {water && <path class="through" d={water.area} />}
      {water && [water.low, water.high].map((d) => <path key={"c" + d} class="casing" d={d} />)}
      {water && [water.low, water.high].map((d) => <path key={d} class="edge" d={d} />)}
      <path class="ceiling" d={`M${left} ${r(Y(ceiling))}H${right}`} />
      <text x={left - 8} y={r(Y(ceiling) + size * 0.35)} font-size={size} text-anchor="end">{ceiling}</text>
      <text x={right} y={r(Y(ceiling) - 7)} font-size={size} text-anchor="end">{t("today.ceiling")}</text>
      {wool.lines.map((line) => <path key={line[0]![0]} class="level-line" d={stepsPath(line.map(([h, ply]) => [X(h), Y(ply)]))} />)}
      {state === "on" && total > 0 && <path class="level-line" d={`M${stackLeft + 1} ${r(Y(total))}H${right - 1}`} />}
      <path class="axis" d={`M${left} ${floor + 0.5}H${right}`} />
      {hourTicks(hours, dayEnd - left, size).map((h, i, all) => (
        <g key={h}>
          <path class="axis" d={`M${r(X(h))} ${floor}v5`} />
          <text x={r(X(h))} y={r(floor + size + 5)} font-size={size} text-anchor={h === 0 ? "start" : "middle"}>
            {i === 0 || (i === all.length - 1 && !large) ? t("common.hours", { n: h }) : h}
          </text>
        </g>
      ))}
      {ahead
        ? total > 0 && <text class="key" x={r(stackLeft + column / 2)} y={r(Y(total / 2) + size * 0.35)} font-size={size} text-anchor="middle">{t("common.ply", { n: total })}</text>
        : <text class="key" x={r(stackLeft + column / 2)} y={r(floor + size + 5)} font-size={size} text-anchor="middle">{t(state === "off" ? "today.off_short" : "today.now")}</text>}
      {!large && !ahead && stackLabels(stack, named, row).map(({ mid, words, where }) => (
        <g key={mid}>
          <text class="key" x={right + 10} y={r(Y(mid) + (where ? -2 : 5))} font-size={16}>{words}</text>
          {where && <text x={right + 10} y={r(Y(mid) + 14)} font-size={14}>{where}</text>}
        </g>
      ))}
      {water && (
        <g>
          <rect class="band" x={left} y={r(Y(ceiling) - 8 - size * 0.72)} width={size * 1.5} height={r(size * 0.72)} />
          <path class="edge" d={`M${left} ${r(Y(ceiling) - 8 - size * 0.72)}h${size * 1.5}M${left} ${r(Y(ceiling) - 8)}h${size * 1.5}`} />
          <text x={left + size * 1.5 + 7} y={r(Y(ceiling) - 7)} font-size={size}>{t("today.your_usual")}</text>
        </g>
      )}
    </svg>
  );
}

const DEPTH = 0.25;

const courses = (ply: number, base: number) => Array.from({ length: Math.max(0, ply - 1) }, (_, i) => base + i + 1);
const gridLines = (ceiling: number, top: number) => [4, 8, 12, 16].filter((ply) => ply < top && Math.abs(ply - ceiling) > 1);

/**
 * The usual as water: through the day and level behind the stack. Ply are whole, and so are its edges: terraces, with a
 * slope only between the two readings where it rose or fell. A quarter ply of depth either side shows that a day which is
 * nearly always the same is known, not missing.
 */
function waterlines(band: Band, end: number, X: (h: number) => number, Y: (p: number) => number, right: number) {
  const hours = [...band.hours.filter((h) => h < end), end];
  const points = (values: readonly number[], depth: number): Point[] => [
    ...hours.map((h): Point => [X(h), Y(along(band.hours, values, h) + depth)]),
    [right, Y(along(band.hours, values, end) + depth)],
  ];
  const low = points(band.low, -DEPTH);
  const high = points(band.high, DEPTH);
  return { low: smooth(low), high: smooth(high), area: `${smooth(high)}L${smooth([...low].reverse()).slice(1)}Z` };
}

type StackLabel = { mid: number; words: string; where: string };

/** What the blocks are; neighbours too thin for two lines of text share one, and say only their ply. */
function stackLabels(stack: readonly number[], named: boolean, row: number): StackLabel[] {
  const groups: { plies: number[]; low: number; high: number }[] = [];
  let base = 0;
  for (const ply of stack) {
    const under = groups.at(-1);
    if (under && (base + ply / 2 - (under.low + under.high) / 2) * row < 22) { under.plies.unshift(ply); under.high = base + ply; }
    else groups.push({ plies: [ply], low: base, high: base + ply });
    base += ply;
  }
  return groups.map(({ plies, low, high }, i) => ({
    mid: (low + high) / 2,
    words: t("common.ply", { n: plies.join(" + ") }),
    where: !named || stack.length < 2 || plies.length > 1 ? ""
      : i === 0 && (high - low) * row > 34 ? t("today.inner")
      : i === groups.length - 1 && row > 16 ? t("today.outer_short") : "",
  }));
}
