// Lists: rows that lead somewhere, rows to tick, rows that only say.
import type { ComponentChildren } from "preact";
import { Icon, type IconName } from "./Icon";

export const Rows = ({ children, label }: { children: ComponentChildren; label?: string }) => (
  <ul class="rows" aria-label={label}>{children}</ul>
);

type RowProps = {
  children: ComponentChildren;
  small?: ComponentChildren;
  /** Before the words: a time, a number. */
  lead?: ComponentChildren;
  icon?: IconName;
  side?: ComponentChildren;
  href?: string;
  gone?: boolean;
  /** For a row that opens something under it: whether it is open. */
  expanded?: boolean;
  onClick?: () => void;
};

export function Row({ children, small, lead, icon, side, href, gone, expanded, onClick }: RowProps) {
  const inside = (
    <>
      {icon && <Icon name={icon} />}
      {lead !== undefined && <span class="lead">{lead}</span>}
      <span class="what">{children}{small && <small>{small}</small>}</span>
      {side}
      {href && <Icon name="next" />}
    </>
  );
  const look = gone ? "row gone" : "row";
  return (
    <li>
      {href ? <a class={look} href={href}>{inside}</a>
        : onClick ? <button type="button" class={look} aria-expanded={expanded} onClick={onClick}>{inside}</button>
        : <div class={look}>{inside}</div>}
    </li>
  );
}

type CheckProps = {
  children: ComponentChildren;
  small?: ComponentChildren;
  /** Between the words and the box, such as a drawing. */
  side?: ComponentChildren;
  checked: boolean;
  onChange: (checked: boolean) => void;
};

export const CheckRow = ({ children, small, side, checked, onChange }: CheckProps) => (
  <li>
    <label class="row">
      <input type="checkbox" checked={checked} onChange={(e) => onChange(e.currentTarget.checked)} />
      <span class="what">{children}{small && <small>{small}</small>}</span>
      {side}
      <span class="box"><Icon name="check" /></span>
    </label>
  </li>
);

type PickProps = Omit<CheckProps, "onChange"> & { name: string; onPick: () => void };

/** One of a list; the box is the same, the control is a radio. */
export const PickRow = ({ children, small, side, checked, name, onPick }: PickProps) => (
  <li>
    <label class="row">
      <input type="radio" name={name} checked={checked} onChange={onPick} />
      <span class="what">{children}{small && <small>{small}</small>}</span>
      {side}
      <span class="box"><Icon name="check" /></span>
    </label>
  </li>
);
