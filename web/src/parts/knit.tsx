// Wool as it is knitted: one row of stitches a ply. Knitted only for what is on or carried; the past is plain.

/** The shade of a sock by its thickness: thick ones dark, thin ones light. */
export const shade = (ply: number): 1 | 2 | 3 => (ply >= 4 ? 1 : ply >= 2 ? 2 : 3);

type Props = { id: string; row: number; stitch: number; x: number; y: number };

/** Patterns `<id>1` to `<id>3`, one a shade, to be put into <defs>. `row` is the height of a ply, `x`, `y` the origin. */
export function KnitPatterns({ id, row, stitch, x, y }: Props) {
  const thick = stitch * 0.33;
  const edge = thick / 2 + 0.3;
  const top = row * 0.2 + 0.4;
  const foot = row - edge - 0.6;
  const v = `M${r(stitch / 2)} ${r(foot)}L${r(edge)} ${r(top)}M${r(stitch / 2)} ${r(foot)}L${r(stitch - edge)} ${r(top)}`;
  return (
    <>
      {[1, 2, 3].map((n) => (
        <pattern key={n} id={id + n} x={x} y={y} width={stitch} height={row} patternUnits="userSpaceOnUse">
          <rect width={stitch} height={row} class={`wool-${n}`} />
          <path d={v} class={`stitch-${n}`} stroke-width={r(thick)} stroke-linecap="round" fill="none" />
        </pattern>
      ))}
    </>
  );
}

const r = (n: number) => Math.round(n * 100) / 100;
