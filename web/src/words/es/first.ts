// The words of ../en/first.ts in Spanish.
import type { Words } from "../shape";
import type { first as en } from "../en/first";

export const first = {
  step: "{n} de 3",
  leg_title: "Tu pierna",
  which_side: "¿Qué lado?",
  both: "Las dos",
  where_ends: "¿Dónde termina la pierna?",
  where_ends_of: "¿Dónde termina la pierna {side}?",
  transtibial: "Bajo la rodilla",
  knee_disarticulation: "En la rodilla",
  transfemoral: "Sobre la rodilla",
  holds: "¿Cómo se sujeta el encaje?",
  pin_lock: "Liner con pin", seal_liner: "Liner con junta", suction_valve: "Válvula de succión", vacuum_pump: "Bomba de vacío",
  sleeve: "Rodillera", lanyard: "Cordón", straps: "Correa o brazalete",
  next_socks: "Sigue: ajuste y medias",
  stays: "Queda en este teléfono, sin cuenta.",

  fit_title: "Ajuste y medias",
  fitted_by: "¿Con qué rellenas el encaje?",
  socks: "Medias", dial: "Dial", strap: "Correas", vacuum: "Vacío", air_bladder: "Cámara de aire", pads: "Almohadillas",
  socks_owned: "¿Qué medias protésicas tienes?",
  socks_hint: "Cuántas de cada una, limpias o no. El ply dice cuántas capas de hilo abulta. Los nombres pueden esperar.",
  sock_of: "{n} ply",
  one_less: "Una de {n} ply menos",
  one_more: "Una de {n} ply más",
  next_clinic: "Sigue: tu clínica",

  clinic_title: "Tu clínica",
  clinic_hint: "Si los sabes. Todo esto puede esperar.",
  clinic_phone: "Número de la clínica",
  emergency_phone: "Número de emergencias de donde vives",
  ceiling: "Máximo de ply que admite este encaje",
  ceiling_hint: "Cada clínica tiene el suyo; vale 11 hasta que la tuya lo diga.",
  what_title: "Qué es y qué no es",
  what_is: "Plytide es tu cuaderno. Cuenta, muestra lo que anotaste y lo pone junto a tus días pasados.",
  what_not: "No diagnostica y no te dice cuántas medias ponerte. Nadie vigila lo que anotas. En una emergencia llama al número de donde estés.",
  start: "Empezar",
  skip: "Saltar",
} satisfies Words<keyof typeof en>;
