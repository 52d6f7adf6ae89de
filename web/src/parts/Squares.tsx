// A QR code from its rows of 0 and 1, with the quiet zone of four that readers need. Always dark on light.
const QUIET = 4;

export function Squares({ rows, label }: { rows: readonly string[]; label: string }) {
  const size = rows.length + 2 * QUIET;
  const path = rows.map((row, y) => [...row.matchAll(/1+/g)].map((run) => `M${run.index + QUIET} ${y + QUIET}h${run[0].length}v1h-${run[0].length}z`).join("")).join("");
  return (
    <svg class="squares" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={size} height={size} fill="#fff" /><path d={path} fill="#000" />
    </svg>
  );
}
