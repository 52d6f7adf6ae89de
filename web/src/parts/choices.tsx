// Ways to choose. One of few: Segment. 0 to 10: Score. Some or none: Chips. Native inputs lie over their labels, so that
// keyboard, screen reader and thumb use the same control.
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { Icon } from "./Icon";

type Option<V> = { value: V; label: string };

type SegmentProps<V extends string> = {
  label: string;
  options: readonly Option<V>[];
  value: V | null;
  onPick: (value: V) => void;
  /** As narrow as its words, for the right of a header. */
  snug?: boolean;
};

export function Segment<V extends string>({ label, options, value, onPick, snug }: SegmentProps<V>) {
  const name = useId();
  const look = ["seg", snug && "snug", options.length > 3 && "many"].filter(Boolean).join(" ");
  return (
    <div class={look} role="radiogroup" aria-label={label}>
      {options.map((o) => (
        <label key={o.value}>
          <input type="radio" name={name} checked={o.value === value} onChange={() => onPick(o.value)} />{o.label}
        </label>
      ))}
    </div>
  );
}

type ScoreProps = { label: string; value: number | null; onPick: (value: number) => void; hint?: string };

/** Eleven targets, 0 to 10. The question stands above and names the group. */
export function Score({ label, value, onPick, hint }: ScoreProps) {
  const name = useId();
  return (
    <div class="field" role="radiogroup" aria-labelledby={`${name}-q`}>
      <div class="question"><span id={`${name}-q`}>{label}</span>{hint && <em>{hint}</em>}</div>
      <div class="score">
        {Array.from({ length: 11 }, (_, v) => (
          <label key={v} class={value !== null && v > 0 && v < value ? "under" : ""} style={{ "--v": v }}>
            <input type="radio" name={name} checked={v === value} onChange={() => onPick(v)} /><i />{v}
          </label>
        ))}
      </div>
    </div>
  );
}

type ChipsProps<V extends string> = {
  label: string;
  options: readonly Option<V>[];
  chosen: readonly V[];
  onToggle: (value: V) => void;
};

/** Some, one or none: each chip is a toggle; the screen decides whether picking one drops another. */
export const Chips = <V extends string>({ label, options, chosen, onToggle }: ChipsProps<V>) => (
  <div class="chips" role="group" aria-label={label}>
    {options.map((o) => {
      const on = chosen.includes(o.value);
      return (
        <button type="button" key={o.value} class="chip" aria-pressed={on} onClick={() => onToggle(o.value)}>
          {on && <Icon name="check" />}{o.label}
        </button>
      );
    })}
  </div>
);

type StepperProps = {
  label: string;
  value: number;
  least: number;
  most: number;
  unit?: ComponentChildren;
  words: { less: string; more: string };
  onChange: (value: number) => void;
};

/** A number with minus and plus, for settings; no keyboard pops up. */
export const Stepper = ({ label, value, least, most, unit, words, onChange }: StepperProps) => (
  <div class="stepper" role="group" aria-label={label}>
    <button type="button" aria-label={words.less} disabled={value <= least} onClick={() => onChange(value - 1)}><Icon name="minus" /></button>
    <output aria-live="polite">{value}{unit && <small>{unit}</small>}</output>
    <button type="button" aria-label={words.more} disabled={value >= most} onClick={() => onChange(value + 1)}><Icon name="plus" /></button>
  </div>
);
