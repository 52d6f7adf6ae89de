// The words of ../en/tender.ts in Spanish.
import type { Words } from "../shape";
import type { tender as en } from "../en/tender";

export const tender = {
  title: "Zonas sensibles",
  what: "Zonas que vigilar, y descargas hechas en el encaje. Se ven en todos los dibujos de este muñón.",
  tap: "Toca el lugar.",
  choose: "Elige el lugar.",
  kind: "Qué hay ahí",
  place: "Zona sensible",
  relief: "Descarga",
  name: "Cómo la llamas",
  name_hint: "puede quedar vacío",
  add: "Marcar este lugar",
  need_place: "Toca primero un lugar.",
  need_choice: "Elige primero un lugar.",
  full: "Hay 50 lugares marcados; saca antes uno.",
  marked: "Marcadas",
  none: "Aún no hay ninguna.",
  remove: "Sacar",
  remove_of: "Sacar: {what}",
  done: "Marcada: {what}",
  taken: "Sacada: {what}",
  no_leg: "Di primero qué pierna y dónde termina; el dibujo depende de ello.",
  leg: "Decir qué pierna",
} satisfies Words<keyof typeof en>;
