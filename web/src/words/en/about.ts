// About: what this is and is not, who sees what, licences.
import type { Words } from "../shape";

export const about = {
  title: "About and limits",
  what: "Plytide is a logbook for people who wear a leg prosthesis: socks through the day, sore spots, skin, and one link for the clinic.",
  not_title: "What it is not",
  not_device: "It is not a medical device. It records what you enter and points out when an entry meets a rule; it does not diagnose and does not say how many socks to wear.",
  not_verified: "Everything here was recorded by the wearer and not verified by anyone.",
  not_watched: "Nobody is watching these entries. If something is wrong, call your clinic; in an emergency call your local emergency number.",
  clinic_wins: "Limits that differ between clinics are settings. Your clinic’s own number always wins.",
  data_title: "Where your entries are",
  data_phone: "On this phone first. They go to a server only after you pair with one, and to a clinic only through a link you make.",
  data_third: "No other party is asked for anything: no fonts, no maps, no counting of visits.",
  data_loss: "A phone’s browser can clear its storage, above all where the page is not on the home screen. A paired server keeps a second copy.",
  sources_title: "Where the rules come from",
  sources: "From published studies, clinic leaflets and common practice. Each sign names its source.",
  comfort: "The 0 to 10 comfort rating is in our own words, after Hanspal and others, Disability and Rehabilitation 2003, 25(22).",
  licences_title: "Licences and notices",
  own: "Plytide: MIT licence.",
  font: "Commissioner by Kostas Bartsokas: SIL Open Font License 1.1.",
  code: "Preact and its signals: MIT licence. idb: ISC licence. d3: ISC licence.",
  loinc: "Exports name some entries by LOINC codes. LOINC is copyright © Regenstrief Institute, Inc. and the LOINC Committee, and is available at no cost at loinc.org under its licence.",
  build: "This version: {build}",
} satisfies Words;
