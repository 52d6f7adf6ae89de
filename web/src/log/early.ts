// Taps on the shell's buttons, made before the page was ready and kept by first.ts.
import type { EarlyTap } from "../first";

/** Hands over what was tapped, oldest first; later taps are the page's own. */
export function earlyTaps(then: (tap: EarlyTap) => void): void {
  const taps = window.plytideTaps ?? [];
  window.plytideTaps = undefined;
  taps.forEach(then);
}
