// The words of ../en/stack.ts in Spanish.
import type { Words } from "../shape";
import type { stack as en } from "../en/stack";

export const stack = {
  title_on: "¿Qué medias llevas?",
  title_off: "¿Qué medias te pones?",
  on: "Puestas, de fuera adentro",
  none_on: "Aún ninguna. La primera que añadas va junto al liner.",
  take: "Retirar {name}",
  take_word: "Retirar",
  add: "Añadir la de más afuera",
  none_owned: "No has dicho qué medias tienes.",
  own: "Decir qué medias tengo",
  free: { one: "1 libre", other: "{n} libres" },
  all_on: "todas puestas",
  wash: "lavándose",
  worn_out: "gastada",
  innermost: "junto al liner",
  outermost: "la de más afuera",
  save_on: "{n} ply puestos",
  save_off: "Poner, {n} ply",
  order: "{list}, de dentro afuera",
  nothing: "sin medias",
  many: "{n} medias a la vez; el máximo de tu clínica es {most}.",
  total: "Total sin nombres",
} satisfies Words<keyof typeof en>;
