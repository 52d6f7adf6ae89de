// The day of a socket fitted by a dial, strap, pump or pads: steps from where it stood when the leg went on, with the
// usual as water. The same line and scale of hours as the figure of a day in ply.
import { along, type Band } from "../today/reading";
import { number } from "../times";
import { t } from "../words";
import { hourTicks, r, smooth, stepsPath, type Point } from "./lines";
import { useMeasure, type Measure } from "./measure";

/** `lines` are unbroken stretches of [hour, steps]; the leg was off between them. `hours`: now, since it first went on. */
export type StepsFigureProps = { lines: readonly (readonly [hour: number, steps: number][])[]; hours: number; band: Band | null; label: string };

export function StepsFigure(props: StepsFigureProps) {
  const [frame, measure] = useMeasure<HTMLElement>();
  return <figure class="bleed" ref={frame}><i class="rem" />{measure && measure.width > 120 && <Drawing {...props} {...measure} />}</figure>;
}

const ROW = 34;
const LEAST = 2; // steps shown each way even on a quiet day

function Drawing({ lines, hours, band, label, width, textScale }: StepsFigureProps & Measure) {
  const size = 14 * textScale;
  const all = [...lines.flat().map(([, steps]) => steps), ...(band ? [...band.low, ...band.high] : [])];
  const top = Math.max(LEAST, Math.ceil(Math.max(...all)));
  const foot = Math.min(-LEAST, Math.floor(Math.min(...all)));
  const row = Math.min(ROW, 220 / (top - foot));
  const left = 16 + 26 * textScale;
  const right = width - 16;
  const head = size * 1.5;
  const floor = head + row * (top - foot);
  const height = floor + size + 12;
  const end = Math.max(hours, 1);
  const X = (hour: number) => left + ((right - left) * hour) / end;
  const Y = (steps: number) => head + (top - steps) * row;
  const curve = (values: readonly number[]): Point[] => [...band!.hours.filter((h) => h < end), end].map((h): Point => [X(h), Y(along(band!.hours, values, h))]);
  const marks = [top, 0, foot].filter((steps, i, list) => list.indexOf(steps) === i);
  const last = lines.at(-1)?.at(-1);
  return (
    <svg class="chart" width={width} height={Math.ceil(height)} viewBox={`0 0 ${width} ${Math.ceil(height)}`} role="img" aria-label={label}>
      {marks.map((steps) => (
        <g key={steps}><path class={steps === 0 ? "axis" : "grid"} d={`M${left} ${r(Y(steps))}H${right}`} /><text x={left - 8} y={r(Y(steps) + size * 0.35)} font-size={size} text-anchor="end">{steps > 0 ? "+" : ""}{number(steps)}</text></g>
      ))}
      {band && <path class="band" d={`${smooth(curve(band.high))}L${smooth(curve(band.low).reverse()).slice(1)}Z`} />}
      {band && [curve(band.low), curve(band.high)].map((points) => <path key={smooth(points)} class="edge" d={smooth(points)} />)}
      {band && <text x={left} y={r(size)} font-size={size}>{t("today.your_usual")}</text>}
      {lines.map((line) => <path key={line[0]![0]} class="level-line" d={stepsPath(line.map(([h, steps]) => [X(h), Y(steps)]))} />)}
      {last && <circle class="now-dot" cx={r(X(last[0]))} cy={r(Y(last[1]))} r="6" />}
      <path class="axis" d={`M${left} ${r(floor)}H${right}`} />
      {hourTicks(hours, right - left, size).map((h, i, list) => (
        <g key={h}>
          <path class="axis" d={`M${r(X(h))} ${r(floor)}v5`} />
          <text x={r(X(h))} y={r(floor + size + 5)} font-size={size} text-anchor={h === 0 ? "start" : "middle"}>{i === 0 || i === list.length - 1 ? t("common.hours", { n: h }) : h}</text>
        </g>
      ))}
    </svg>
  );
}
