// How wide a drawing may be and how large its text: charts are drawn to the measured width, never scaled.
import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";

export type Measure = { width: number; textScale: number };

/**
 * A ref for the frame, and its measure once it is in the page (null before). `textScale` 1 is a 16 px root; a probe of
 * class `rem` in the frame is watched too, so that a change of text size is seen.
 */
export function useMeasure<T extends HTMLElement>(): [RefObject<T | null>, Measure | null] {
  const frame = useRef<T>(null);
  const [measure, setMeasure] = useState<Measure | null>(null);
  useLayoutEffect(() => {
    const take = () => {
      if (!frame.current) return;
      const width = Math.floor(frame.current.clientWidth);
      const textScale = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
      setMeasure((old) => (old?.width === width && old.textScale === textScale ? old : { width, textScale }));
    };
    take();
    const watch = new ResizeObserver(take);
    if (frame.current) watch.observe(frame.current);
    const probe = frame.current?.querySelector(".rem");
    if (probe) watch.observe(probe);
    return () => watch.disconnect();
  }, []);
  return [frame, measure];
}
