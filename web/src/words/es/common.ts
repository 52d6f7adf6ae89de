// The words of ../en/common.ts in Spanish.
import type { Words } from "..";
import type { common as en } from "../en/common";

export const common = {
  back: "Volver a {where}",
  actions: "Botones",
  undo: "Deshacer",
  redo: "Reponer",
  left: "Izquierda",
  right: "Derecha",
  side: "Qué lado",
  ply: "{n}\u00a0ply",
  hours: "{n}\u00a0h",
  minutes: "{n}\u00a0min",
  today: "Hoy",
  yesterday: "Ayer",
  on_today: "hoy",
  on_yesterday: "ayer",
  on_day: "el {day}",
  loading: "Abriendo…",
  failed: "No se pudo traer esta pantalla. Lo que anotaste está a salvo. Conéctate una vez e inténtalo de nuevo.",
  broken: "No se pudo mostrar esta pantalla; el fallo es nuestro. Lo que anotaste está a salvo.",
  again: "Intentar de nuevo",
  saving: "guardando…",
  sent: "todo enviado {time}",
  sent_all: "todo enviado",
  waiting: "en este teléfono; {n} por enviar",
  offline: "sin conexión; a salvo aquí",
  alone: "solo en este teléfono",
  pair_again: "a salvo aquí; vincula para enviar",
  too_old: "a salvo aquí; actualiza para enviar",
  server_full: "a salvo aquí; servidor lleno",
} satisfies Words<keyof typeof en>;
