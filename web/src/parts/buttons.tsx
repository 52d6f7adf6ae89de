// Big buttons, text buttons, telephone links and the row that says what was just done.
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import { Icon, type IconName } from "./Icon";

type BigProps = {
  children: ComponentChildren;
  small?: ComponentChildren;
  icon?: IconName;
  out?: boolean;
  tall?: boolean;
  href?: string;
  tap?: string;
  disabled?: boolean;
  onClick?: () => void;
};

/** Taps closer than this are one intent: a shaking hand must not save twice. */
const ONE_INTENT_MS = 500;

/** A main button. `tap` names the intent for taps made before the script has arrived (see first.ts). */
export function BigButton({ children, small, icon, out, tall, href, tap, disabled, onClick }: BigProps) {
  const last = useRef(0);
  const once = () => {
    const now = performance.now();
    if (last.current && now - last.current < ONE_INTENT_MS) return;
    last.current = now;
    onClick?.();
  };
  const look = ["big", out && "out", tall && "tall"].filter(Boolean).join(" ");
  const inside = <>{icon && <Icon name={icon} />}<span>{children}{small && <small>{small}</small>}</span></>;
  return href
    ? <a class={look} href={href}>{inside}</a>
    : <button type="button" class={look} onClick={once} disabled={disabled} data-tap={tap}>{inside}</button>;
}

type TextProps = { children: ComponentChildren; href?: string; icon?: IconName; label?: string; onClick?: () => void };

export const TextButton = ({ children, href, icon, label, onClick }: TextProps) => {
  const inside = <>{icon && <Icon name={icon} />}{children}</>;
  return href
    ? <a class="text-button" href={href} aria-label={label}>{inside}</a>
    : <button type="button" class="text-button" onClick={onClick} aria-label={label}>{inside}</button>;
};

/** The tel: address of a number as people write it. */
export const telephone = (number: string) => "tel:" + number.replace(/(?!^\+)[^\d*#,]/g, "");

type UndoProps = {
  /** What was done; with `href` it opens the entry to be put right. */
  said: string;
  href?: string;
  /** What following `href` does, for a screen reader. */
  label?: string;
  children?: ComponentChildren;
};

/** What was just done, and what can be done about it; stays until the next thing is done. */
export const UndoRow = ({ said, href, label, children }: UndoProps) => (
  <div class="undo">
    {href ? <a class="said" href={href}>{said}<span class="unseen">{label}</span></a> : <span class="said">{said}</span>}
    <span class="acts">{children}</span>
  </div>
);
