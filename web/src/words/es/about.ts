// The words of ../en/about.ts in Spanish.
import type { Words } from "../shape";
import type { about as en } from "../en/about";

export const about = {
  title: "Acerca de y límites",
  what: "Plytide es un cuaderno para quien lleva una prótesis de pierna: las medias a lo largo del día, los puntos de dolor, la piel, y un enlace para la clínica.",
  not_title: "Qué no es",
  not_device: "No es un producto sanitario. Guarda lo que anotas y señala cuándo una nota cumple una regla; no diagnostica y no dice cuántas medias ponerse.",
  not_verified: "Todo lo que hay aquí lo anotó quien lleva la prótesis y nadie lo ha comprobado.",
  not_watched: "Nadie vigila estas notas. Si algo va mal, llama a tu clínica; en una emergencia, llama al número de emergencias de donde estés.",
  clinic_wins: "Los límites que cambian de una clínica a otra son ajustes. El número de tu clínica manda siempre.",
  data_title: "Dónde están tus notas",
  data_phone: "Primero en este teléfono. Van a un servidor solo si lo vinculas, y a una clínica solo por un enlace que tú haces.",
  data_third: "No se pide nada a nadie más: ni letras, ni mapas, ni recuento de visitas.",
  data_loss: "El navegador de un teléfono puede borrar lo que guarda, sobre todo si la página no está en la pantalla de inicio. Un servidor vinculado tiene una segunda copia.",
  sources_title: "De dónde vienen las reglas",
  sources: "De estudios publicados, folletos de clínicas y práctica común. Cada aviso dice su fuente.",
  comfort: "La nota de comodidad de 0 a 10 está dicha con nuestras palabras, según Hanspal y otros, Disability and Rehabilitation 2003, 25(22).",
  licences_title: "Licencias y avisos legales",
  own: "Plytide: licencia MIT.",
  font: "Commissioner, de Kostas Bartsokas: SIL Open Font License 1.1.",
  code: "Preact y sus señales: licencia MIT. idb: licencia ISC. d3: licencia ISC.",
  loinc: "Los archivos exportados nombran algunas notas con códigos LOINC. LOINC es copyright © Regenstrief Institute, Inc. y el LOINC Committee, y se obtiene sin coste en loinc.org bajo su licencia.",
  build: "Esta versión: {build}",
} satisfies Words<keyof typeof en>;
