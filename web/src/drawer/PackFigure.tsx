// The bag drawn: what is on at the start plain, what is carried knitted, what is missing dashed, on one scale of ply.
import { useId } from "preact/hooks";
import { KnitPatterns, shade } from "../parts/knit";
import { useMeasure, type Measure } from "../parts/measure";
import { t } from "../words";

type Props = { base: number; onNow: boolean; carried: readonly number[]; covered: number; usual: number; high: number; ceiling: number; /** Whether usual and high rest on a forecast. */ forecast: boolean };

export function PackFigure(props: Props) {
  const [frame, measure] = useMeasure<HTMLElement>();
  const odds = !props.forecast ? [] : [
    ...(props.usual > props.base ? [t("socks.to_usual", { n: props.usual })] : []),
    ...(props.high > props.usual ? [t("socks.to_high", { n: props.high })] : []),
  ];
  const fits = !!measure && odds.length > 0 && odds.every((text) => text.length * LETTER * 15 * measure.textScale < roomFor(measure));
  return (
    <figure class="bleed" ref={frame}>
      {measure && measure.width > 120 && <Drawing {...props} {...measure} odds={fits} />}
      {measure && !fits && odds.length > 0 && <figcaption class="beneath">{odds.map((text) => <p key={text}>{text}</p>)}</figcaption>}
    </figure>
  );
}

const COLUMN = 92;
const MARGIN = 16;
const LETTER = 0.56; // the width of a letter, on the safe side, in font sizes
const leftOf = ({ textScale }: Measure) => MARGIN + 22 * textScale;
/** Where the odds can be written beside the bag; else they stand under the drawing. */
const roomFor = (measure: Measure) => measure.width - MARGIN - leftOf(measure) - COLUMN - 14;

function Drawing({ base, onNow, carried, covered, usual, high, ceiling, forecast, width, textScale, odds }: Props & Measure & { odds: boolean }) {
  const id = useId();
  const size = 15 * textScale;
  const left = leftOf({ width, textScale });
  const right = width - MARGIN;
  const top = Math.max(ceiling, high, base + carried.reduce((a, b) => a + b, 0));
  const row = Math.min(22, Math.max(13, 260 / top), 300 / top) * (textScale > 1.2 ? 1.2 : 1);
  const head = size * 1.7;
  const floor = head + row * top;
  const height = Math.ceil(floor + 6);
  const Y = (ply: number) => floor - ply * row;
  const words = left + COLUMN + 14;
  const block = (from: number, ply: number) => ({ x: left, y: r(Y(from + ply) + 0.75), width: COLUMN, height: r(ply * row - 1.5), rx: 6 });
  const levels = [...new Set([usual, high, covered])].filter((ply) => ply > base);
  return (
    <svg class="chart" width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={t(forecast ? "socks.figure" : "socks.figure_plain", { base, covered, usual, high, ceiling })}>
      <defs><KnitPatterns id={id} row={row} stitch={COLUMN / 9} x={left} y={floor} /></defs>
      <path class="ceiling" d={`M${left} ${r(Y(ceiling))}H${right}`} />
      <text x={left - 8} y={r(Y(ceiling) + size * 0.35)} font-size={size} text-anchor="end">{ceiling}</text>
      <text x={right} y={r(Y(ceiling) - 7)} font-size={size} text-anchor="end">{t("socks.ceiling")}</text>
      {base > 0 && <rect class="past-1" {...block(0, base)} />}
      {Array.from({ length: Math.max(0, base - 1) }, (_, i) => <path key={i} class="course" d={`M${left + 1} ${r(Y(i + 1))}h${COLUMN - 2}`} />)}
      {carried.map((ply, i) => {
        const from = base + carried.slice(0, i).reduce((a, b) => a + b, 0);
        return from + ply <= top && <rect key={i} {...block(from, ply)} fill={`url(#${id}${shade(ply)})`} />;
      })}
      {covered < high && <rect class="hollow" {...block(Math.max(covered, base), high - Math.max(covered, base))} />}
      {levels.filter((ply) => ply !== ceiling).map((ply) => <text key={ply} x={left - 8} y={r(Y(ply) + size * 0.35)} font-size={size} text-anchor="end">{ply}</text>)}
      {covered > base && <path class="level-line" d={`M${left + 1} ${r(Y(covered))}H${right}`} />}
      {usual > base && <Level y={Y(usual)} from={left + COLUMN + 8} to={right} x={words} size={size} under={usual < high} text={odds ? t("socks.to_usual", { n: usual }) : ""} />}
      {forecast && high > usual && <Level y={Y(high)} from={left + COLUMN + 8} to={right} x={words} size={size} under={false} text={odds ? t("socks.to_high", { n: high }) : ""} />}
      {base > 0 && <text x={words} y={r(Y(base / 2) + size * 0.35)} font-size={size}>{t(onNow ? "socks.on_now" : "socks.at_start", { n: base })}</text>}
      <path class="axis" d={`M${left} ${r(floor) + 0.5}H${right}`} />
    </svg>
  );
}

type LevelProps = { y: number; from: number; to: number; x: number; size: number; under: boolean; text: string };

/** A level with its odds: above its line, or under it where the next one would be in the way. */
const Level = ({ y, from, to, x, size, under, text }: LevelProps) => (
  <g>
    <path class="axis" d={`M${from} ${r(y)}H${to}`} />
    <text class="key" x={x} y={r(under ? y + size + 3 : y - 6)} font-size={size}>{text}</text>
  </g>
);

const r = (n: number) => Math.round(n * 10) / 10;
