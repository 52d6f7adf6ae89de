// A sock as a small knitted block, as thick as its ply.
import { useId } from "preact/hooks";
import { KnitPatterns, shade } from "./knit";

const ROW = 7;
const WIDTH = 44;

export function Swatch({ ply }: { ply: number }) {
  const id = useId();
  const height = Math.max(ply, 1) * ROW;
  return (
    <svg class="chart swatch" width={WIDTH} height={height} aria-hidden="true">
      <defs><KnitPatterns id={id} row={ROW} stitch={WIDTH / 7} x={0} y={0} /></defs>
      {ply > 0
        ? <rect width={WIDTH} height={height} rx="4" fill={`url(#${id}${shade(ply)})`} />
        : <rect class="hollow" x="1" y="1" width={WIDTH - 2} height={height - 2} rx="2" />}
    </svg>
  );
}
