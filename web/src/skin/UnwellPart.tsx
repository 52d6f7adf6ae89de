// Fever and feeling unwell: what turns trouble with the skin into something for the same hour.
import { useState } from "preact/hooks";
import { settings } from "../log/book";
import type { SkinBody } from "../log/kinds";
import { Chips } from "../parts/choices";
import { t } from "../words";
import { UNWELL, type Unwell } from "./check";

const LOW = 30, HIGH = 45; // degrees Celsius that an entry takes

/** Fahrenheit as entered to Celsius as stored: 100.4 is 38 exactly. */
export const celsius = (fahrenheit: number): number => Math.round(((fahrenheit - 32) / 1.8) * 100) / 100;
const fahrenheit = (c: number): number => Math.round((c * 1.8 + 32) * 10) / 10;

export function UnwellPart({ body, onChange }: { body: SkinBody; onChange: (to: Partial<SkinBody>) => void }) {
  const us = settings.value.units === "us";
  const shown = (c: number) => `${us ? fahrenheit(c) : c}`;
  const [typed, setTyped] = useState(typeof body.fever_c === "number" ? shown(body.fever_c) : "");
  const read = (text: string): number | null => {
    const value = Number(text.replace(",", "."));
    return text.trim() === "" || !Number.isFinite(value) ? null : us ? celsius(value) : value;
  };
  const bad = typed.trim() !== "" && !((read(typed) ?? 0) >= LOW && (read(typed) ?? 0) <= HIGH);
  const enter = (text: string) => {
    setTyped(text);
    const value = read(text);
    if (value === null || (value >= LOW && value <= HIGH)) onChange({ fever_c: text.trim() === "" ? null : value });
  };
  const unit = us ? "°F" : "°C";
  return (
    <section class="field" aria-label={t("skin.unwell_title")}>
      <h2>{t("skin.unwell_title")}</h2>
      <label class="label"><span>{t("skin.temperature")}, {unit}</span>
        <input class="input" inputMode="decimal" autocomplete="off" value={typed} aria-invalid={bad} onInput={(e) => enter(e.currentTarget.value)} />
      </label>
      {bad && <p role="alert">{t("skin.temperature_bad", { low: `${shown(LOW)} ${unit}`, high: `${shown(HIGH)} ${unit}` })}</p>}
      <p class="question"><span>{t("skin.unwell")}</span></p>
      <Chips label={t("skin.unwell")} chosen={body.unwell ?? []} options={UNWELL.map((value) => ({ value, label: t(`skin.${value}`) }))}
        onToggle={(one: Unwell) => onChange({ unwell: (body.unwell ?? []).includes(one) ? body.unwell!.filter((u) => u !== one) : [...(body.unwell ?? []), one] })} />
    </section>
  );
}
