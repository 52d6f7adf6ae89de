// How it feels, one word or none; and apart from that, whether it is felt on the limb or where the leg no longer is.
import type { SoreBody } from "../log/kinds";
import { Chips } from "../parts/choices";
import { t } from "../words";

export type Feel = NonNullable<SoreBody["feel"]>;
const FEELS: readonly Feel[] = ["pressure", "rub", "pinch", "burn", "sharp", "throb", "numb"];

type Props = { feel: Feel | null; phantom: boolean; onFeel: (feel: Feel | null) => void; onPhantom: (phantom: boolean) => void };

export const Feels = ({ feel, phantom, onFeel, onPhantom }: Props) => (
  <div class="feels">
    <Chips label={t("sore.feels")} chosen={feel ? [feel] : []} onToggle={(one) => onFeel(one === feel ? null : one)}
      options={FEELS.map((value) => ({ value, label: t(`sore.${value}`) }))} />
    <button type="button" class="chip apart" aria-pressed={phantom} onClick={() => onPhantom(!phantom)}>{t("sore.phantom")}</button>
  </div>
);
