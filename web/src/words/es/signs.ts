// The words of ../en/signs.ts in Spanish.
import type { Words } from "../shape";
import type { signs as en } from "../en/signs";

export const signs = {
  title: "Avisos",
  none: "No hay ningún aviso.",
  none_more: "Los avisos se calculan con lo anotado cuando este teléfono ha estado en contacto con su servidor.",
  none_alone: "Lo que dice una sola nota está aquí al momento. Para los avisos de varios días hace falta un servidor que los calcule, y este teléfono no está vinculado con ninguno.",
  none_not: "Esto no quiere decir que todo esté bien: mírate la piel cada día.",
  made: "Calculado {when}.",
  entered: "Lo anotado",
  evidence: "Las notas",
  source: "De dónde viene la regla",
  since: "desde {day}",
  do: "Qué hacer",
  told: "Dicho a la clínica {day}.",
  tell: "Se lo he dicho a la clínica",
  tell_again: "Se lo he dicho otra vez",
  not_told: "La clínica aún no lo sabe.",
  gone: "Este aviso ya no está.",
  not_a_diagnosis: "Un aviso dice que una nota cumple una regla. No es un diagnóstico. Decide tu clínica.",
  soreness_of: "dolor de {n}",
  less_than_a_ply: "menos de un ply",
  older: "{n} más antiguas",
} satisfies Words<keyof typeof en>;
