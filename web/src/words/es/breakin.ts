// The words of ../en/breakin.ts in Spanish.
import type { Words } from "../shape";
import type { breakin as en } from "../en/breakin";

export const breakin = {
  title: "Adaptación",
  none: "No hay etapas. Tu clínica las da con un encaje nuevo: cuánto rato, cuántas veces, durante cuántos días.",
  disagree: "Los folletos no coinciden en las etapas, así que Plytide no tiene las suyas.",
  slowest: "Usar por ahora las de un folleto lento",
  slowest_small: "30 min una vez, luego 3 veces 30, 45, 60 y así, 15 más al día",
  plan: "El plan",
  day: "Día {n}",
  gained: "superada",
  today: "Etapa de hoy: {step}.",
  done: "Todas las etapas están superadas.",
  step_times: "{time}, {times} veces",
  on_for: "Puesta {n} de {of}.",
  time_up: "Puesta {n}; la etapa dice {of}. Quítate la prótesis y mira la piel.",
  held_skin: "La última revisión encontró algo, así que la etapa se queda. Pregunta a tu clínica antes de seguir.",
  held_no_look: "El último día no se anotó ninguna revisión de la piel, así que la etapa se queda.",
  rule: "Una etapa se supera solo con un día de prótesis en que todas las revisiones de la piel salen bien. Lo que diga tu clínica va por delante de este plan.",
  edit: "Cambiar las etapas",
  enter: "Las etapas de tu clínica",
  minutes: "minutos cada vez",
  times: "veces al día",
  days: "días así",
  for_days: { one: "durante 1 día", other: "durante {n} días" },
  add: "Añadir esta etapa",
  remove: "Quitar",
} satisfies Words<keyof typeof en>;
