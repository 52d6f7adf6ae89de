// The words of ../en/limb.ts in Spanish.
import type { Words } from "../shape";
import type { limb as en } from "../en/limb";

export const limb = {
  views: "Vista",
  view_front: "Delante",
  view_inner: "Dentro",
  view_back: "Detrás",
  view_outer: "Fuera",
  view_end: "Punta",
  side_front: "delante",
  side_outer: "fuera",
  side_back: "detrás",
  side_inner: "dentro",

  show_as: "Mostrar como",
  drawing: "Dibujo",
  list: "Lista",
  picture_left: "Muñón izquierdo, {view}.",
  picture_right: "Muñón derecho, {view}.",
  seen_front: "visto por delante",
  seen_inner: "visto por la cara interna",
  seen_back: "visto por detrás",
  seen_outer: "visto por la cara externa",
  seen_end: "visto desde abajo",
  marked: "Marcado: {what}.",
  earlier: { one: "1 marca anterior.", other: "{n} marcas anteriores." },
  elsewhere: { one: "1 más en otra vista", other: "{n} más en otras vistas" },
  turned_front: "Girado hacia delante. ¿Es ahí? Toca para moverla.",
  turned_inner: "Girado a la cara interna. ¿Es ahí? Toca para moverla.",
  turned_back: "Girado hacia atrás. ¿Es ahí? Toca para moverla.",
  turned_outer: "Girado a la cara externa. ¿Es ahí? Toca para moverla.",
  turned_end: "Girado a la punta. ¿Es ahí? Toca para moverla.",
  above_edge: "por encima del borde usual del encaje",
  rings: "círculos: de antes",
  again: "doble: más de una vez",
  dashes: "trazos: borde del encaje",
} satisfies Words<keyof typeof en>;
