// Sign shapes: the outline gains corners and the level inside rises with the weight of the sign.
import type { Sign } from "../log/summary";

export type Level = Sign["level"];

const SHAPES: Record<Level, { outline: string; from: number }> = {
  watch: { outline: "M3.5 16a12.5 12.5 0 1 0 25 0 12.5 12.5 0 1 0-25 0Z", from: 22 },
  review: { outline: "M6.5 4h19A2.5 2.5 0 0 1 28 6.5v19a2.5 2.5 0 0 1-2.5 2.5h-19A2.5 2.5 0 0 1 4 25.5v-19A2.5 2.5 0 0 1 6.5 4Z", from: 16 },
  same_day: { outline: "M16 1.5 30.5 16 16 30.5 1.5 16Z", from: 11 },
  emergency: { outline: "M10 1.5h12l8.5 8.5v12L22 30.5H10L1.5 22V10Z", from: 0 },
};

export function Glyph({ level }: { level: Level }) {
  const { outline, from } = SHAPES[level];
  const clip = `glyph-${level}`;
  return (
    <svg class="glyph" viewBox="0 0 32 32" aria-hidden="true">
      <clipPath id={clip}><rect x="0" y={from} width="32" height="32" /></clipPath>
      <path d={outline} fill="currentColor" clip-path={`url(#${clip})`} />
      <path d={outline} fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round" />
      {level === "emergency" && (
        <g class="mark"><path d="M16 8v10" stroke-width="4.5" stroke-linecap="round" /><path d="M16 24h.01" stroke-width="5.2" stroke-linecap="round" /></g>
      )}
    </svg>
  );
}
