// What is touched: minus and plus while the leg is on, Put on while it is off; under them what was last done, and the
// ways on. Every state is as high as the others: nothing may move from under a thumb that taps twice.
import { current, settings } from "../log/book";
import { PLY_MAX, type Entry, type Limb } from "../log/kinds";
import { href } from "../nav";
import { BigButton, TextButton, UndoRow } from "../parts/buttons";
import { Icon } from "../parts/Icon";
import { Quick, type QuickItem } from "../parts/Page";
import { clock } from "../moments";
import { t } from "../words";
import { beside } from "./besideLater";
import type { Fit } from "./fits";
import { owned } from "./now";
import { saying } from "./saying";
import { plies } from "./stack";
import { done, justSwitched, putOn, takeOff, tapPly, undo } from "./taps";
import type { Worn } from "./wear";

type Props = { limb: Limb; fit: Fit; worn: Worn };

export function TouchZone({ limb, fit, worn }: Props) {
  const off = !worn.on && (worn.next !== null || worn.last !== null);
  const last = lastEntry(limb, worn);
  const aside = beside.value;
  return (
    <>
      {aside && <aside.AskedRow />}
      {off ? <OffButtons limb={limb} fit={fit} worn={worn} /> : fit === "ply" ? <PlyButtons limb={limb} fit={fit} worn={worn} /> : aside && <aside.StepButtons limb={limb} what={fit} />}
      {aside && <aside.WhyRow />}
      <LastRow last={last} worn={worn} choose={fit !== "ply" ? null : t(off ? "today.other_set" : "today.other_sock")} limb={limb} />
      <Quick label={t("today.ways")} items={ways(limb, worn)} />
    </>
  );
}

function PlyButtons({ limb, worn }: Props) {
  const total = worn.on?.total ?? 0;
  const { ply_ceiling } = settings.value;
  const socks = owned.value;
  const outer = worn.on?.socks?.at(-1);
  const outerIsOne = outer !== undefined && socks.get(outer)?.ply === 1;
  const past = total >= ply_ceiling;
  return (
    <div class="steps">
      <Step way="less" tap="down" off={total <= 0} onTap={() => tapPly(limb, -1)} name={t("today.ply_off")}
        small={total <= 0 ? t("today.none_left") : outerIsOne ? t("today.outer") : t("today.makes", { n: total - 1 })} />
      <Step way="more" tap="up" off={total >= PLY_MAX} solid={!past} onTap={() => tapPly(limb, 1)} name={t("today.ply_on")}
        small={past ? t("today.past_ceiling") : outerIsOne ? t("today.outermost") : t("today.makes", { n: total + 1 })} />
    </div>
  );
}

type StepProps = { way: "less" | "more"; tap: string; name: string; small?: string; solid?: boolean; off?: boolean; onTap: () => void };

/** A big button of minus or plus. aria-disabled rather than disabled: a button that vanishes from under a thumb or a reader's focus only confuses. */
export const Step = ({ way, tap, name, small, solid, off, onTap }: StepProps) => (
  <button type="button" class={solid ? "step solid" : "step"} data-tap={tap} aria-disabled={off || undefined} onClick={off ? undefined : onTap}>
    <Icon name={way === "less" ? "minus" : "plus"} /><span><b>{name}</b>{small && <>{" "}{small}</>}</span>
  </button>
);

function OffButtons({ limb, fit, worn }: Props) {
  const { next } = worn;
  const keepOff = beside.value?.keepsOff() ?? false;
  if (fit !== "ply" || !next || next.total === null)
    return (
      <BigButton tall icon="on" tap="on" out={keepOff} {...(keepOff ? { small: t("today.keep_off") } : {})} onClick={() => putOn(limb, next ?? { total: null, socks: null })}>
        {t("today.put_on_plain")}
      </BigButton>
    );
  const stack = next.socks && plies(next.socks, owned.value);
  const set = stack?.length ? stack.join(" + ") : null;
  const how = keepOff ? t("today.keep_off") : t(next.from === "last" ? "today.as_last" : "today.as_start") + (set ? `: ${set}` : "");
  return <BigButton tall icon="on" tap="on" out={keepOff} small={how} onClick={() => putOn(limb, next)}>{t("today.put_on_ply", { n: next.total })}</BigButton>;
}

/** What was last done here, or else the day's last entry about wear. */
function lastEntry(limb: Limb, worn: Worn): Entry | null {
  const own = done.value?.limb === limb ? current(done.value.id) : undefined;
  return own ?? worn.last;
}

type LastProps = { last: Entry | null; worn: Worn; choose: string | null; limb: Limb };

function LastRow({ last, worn, choose, limb }: LastProps) {
  const other = choose && <TextButton href={href("stack", limb)}>{choose}</TextButton>;
  if (!last) return <UndoRow said={t("today.nothing_done")}>{other}</UndoRow>;
  const before = done.value?.id === last.id && done.value.from ? done.value.from.total : totalBefore(last, worn);
  const words = { what: saying(last, before), time: clock(last.at, last.zone) };
  return (
    <UndoRow said={t(last.erased ? "today.undone" : "today.last", words)} href={href("entry", last.id)} label={t("today.change")}>
      {other}
      <TextButton onClick={() => undo(last)}>{t(last.erased ? "common.redo" : "common.undo")}</TextButton>
    </UndoRow>
  );
}

function totalBefore(entry: Entry, worn: Worn): number | null {
  const at = Date.parse(entry.at);
  return worn.today.flatMap((s) => s.steps).filter((s) => s.ms < at).at(-1)?.total ?? null;
}

function ways(limb: Limb, worn: Worn): QuickItem[] {
  return [
    { name: t("today.sore"), icon: "spot", href: href("sore", limb) },
    { name: t("today.skin"), icon: "mirror", href: href("skin", limb) },
    worn.on
      ? { name: t("today.take_off"), icon: "off", tap: "off", onClick: () => takeOff(limb) }
      : { name: t("today.day"), icon: "list", href: href("day"), onClick: (event) => { if (justSwitched()) event.preventDefault(); } },
    { name: t("today.more"), icon: "more", href: href("more") },
  ];
}
