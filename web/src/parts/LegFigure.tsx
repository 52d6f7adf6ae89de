// Where a limb ends, plainly: what is one's own in a full line, what is worn dotted, the end filled.
import type { LimbProfile } from "../log/kinds";

const FOOT = "21 86H16c-3 0-5 2-5 5h22c2-2 1-4 0-6";

const LEGS: Record<LimbProfile["level"], { own: string; end: string; worn: string }> = {
  transtibial: {
    own: "M15 3C13 18 15 30 18 38C16 43 16.5 49 18 56M38 3C39 18 37 30 34 38C36 43 35.5 49 34 56",
    end: "M18 56c0 11 16 11 16 0Z",
    worn: `M18 60C18 70 20 80 ${FOOT}C33 78 34 70 34 60`,
  },
  knee_disarticulation: {
    own: "M15 3C13 18 15 28 16.5 36M38 3C39 18 37 28 35.5 36",
    end: "M16.5 36c-2 12 21 12 19 0Z",
    worn: `M17 46C17 62 20 78 ${FOOT}C33 78 35 62 35 46`,
  },
  transfemoral: {
    own: "M15 3C13.5 12 14 18 15.5 23M38 3C39 12 38 18 36.5 23",
    end: "M15.5 23c0 12 21 12 21 0Z",
    worn: `M17 33C17 52 19 76 ${FOOT}C33 74 35 52 35 33`,
  },
};

export const LegFigure = ({ level, side }: { level: LimbProfile["level"]; side: LimbProfile["side"] }) => (
  <svg class="leg-figure" width="44" height="80" viewBox="4 0 44 95" aria-hidden="true">
    <g transform={side === "left" ? "translate(52 0) scale(-1 1)" : undefined}>
      <path d={LEGS[level].own} /><path class="end" d={LEGS[level].end} /><path class="worn" d={LEGS[level].worn} />
    </g>
  </svg>
);
