// The end of the limb, and dotted below it what is felt but no longer there.
import { t } from "../words";

export const Phantom = () => (
  <div class="phantom">
    <svg viewBox="30 0 130 250" class="limb" aria-hidden="true">
      <path class="limb-body" d="M66 0C64 34 70 62 77 80c5 17 41 17 46 0C130 62 136 34 134 0Z" />
      <path class="limb-line" d="M66 0C64 34 70 62 77 80c5 17 41 17 46 0C130 62 136 34 134 0" />
      <path class="limb-ghost" d="M79 104C81 130 86 160 88 184C88 200 84 206 77 212L48 226c-9 5-6 17 5 17H112c10 0 13-8 11-18L117 200C115 170 118 132 121 104" />
    </svg>
    <div><h2>{t("sore.phantom_title")}</h2><p class="quiet">{t("sore.phantom_more")}</p></div>
  </div>
);
