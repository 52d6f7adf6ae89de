// The water goes out: how long until marks should have faded, from the moment the leg came off.
import { useEffect, useState } from "preact/hooks";
import { nowForAt } from "../log/offset";
import type { Limb } from "../log/kinds";
import { TextButton } from "../parts/buttons";
import { clock, number } from "../times";
import { takeOff } from "../today/taps";
import { t } from "../words";
import { countdown, timer, type Timer } from "./timer";

/** The timer as it stands now, moving on by the second while it runs. */
export function useTimer(since: number | null, limitMin: number): Timer {
  const [at, setAt] = useState(nowForAt);
  const stands = timer(since, limitMin, Math.max(at, since ?? 0));
  useEffect(() => {
    if (since === null) return;
    setAt(nowForAt());
    const ticking = setInterval(() => setAt(nowForAt()), 1000);
    return () => clearInterval(ticking);
  }, [since]);
  return stands;
}

type Props = { timer: Timer; limitMin: number; side: Limb; on: boolean; offSince: number | null };

export function Ebb({ timer: at, limitMin, side, on, offSince }: Props) {
  if (at.state === "none") {
    if (offSince !== null) return null;
    return (
      <section class="ebb untimed">
        <p>{t(on ? "skin.leg_on" : "skin.no_time")}</p>
        <TextButton onClick={() => takeOff(side)}>{t("skin.off_now")}</TextButton>
      </section>
    );
  }
  if (at.state === "due") {
    return (
      <section class="ebb" role="timer">
        <div class="line">
          <p><span class="large">{number(at.minutes)}</span> {t("skin.since", { n: at.minutes })}</p>
          <p class="aside">{t("skin.limit")}<b>{t("skin.limit_min", { n: number(limitMin) })}</b></p>
        </div>
      </section>
    );
  }
  const minutes = Math.ceil(at.left / 60e3);
  return (
    <section class="ebb" role="timer" aria-label={t("skin.left", { n: minutes, of: number(limitMin) })}>
      <div class="line">
        <p><span class="large">{countdown(at.left)}</span> {t("skin.until")}</p>
        <p class="aside">{t("skin.look_again")}<b>{clock(at.until)}</b></p>
      </div>
      <Strip share={at.share} half={limitMin / 2} />
    </section>
  );
}

const Strip = ({ share, half }: { share: number; half: number }) => (
  <div class="strip" aria-hidden="true"><i style={{ width: `${share * 100}%` }} /><span>{number(half)}</span></div>
);
