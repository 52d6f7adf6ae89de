// What the server says in English, in Spanish: its sentences are few and made of numbers (insight/words.py, usual.py,
// trend.py, forecast.py, shifts.py). A sentence that is not known here comes back as it is.
const days = (n: string) => (n === "1" ? "1 día" : `${n} días`);
const comma = (n: string) => n.replace(".", ",");

type Turn = readonly [RegExp, (...found: string[]) => string];

const CHANCES: readonly Turn[] = [
  [/^fewer than 1 in 20$/, () => "menos de 1 de 20"],
  [/^more than 19 in 20$/, () => "más de 19 de 20"],
  [/^(\d+) in (\d+)$/, (n, of) => `${n} de ${of}`],
];

const SENTENCES: readonly Turn[] = [
  ...CHANCES,
  [/^fewer than 1 day in 20$/, () => "menos de 1 día de cada 20"],
  [/^nearly every day$/, () => "casi todos los días"],
  [/^about (\d+) days? in (\d+)$/, (n, of) => `unos ${n} días de cada ${of}`.replace("unos 1 días", "cerca de 1 día")],
  [/^Not enough days yet: (\d+) days? with this fit in four weeks, (\d+) are needed\.$/, (n, of) => `Aún faltan días: ${days(n!)} con este ajuste en cuatro semanas, hacen falta ${of}.`],
  [/^Not enough days yet: (\d+) days? with this fit, (\d+) over (\d+) are needed\.$/, (n, of, span) => `Aún faltan días: ${days(n!)} con este ajuste, hacen falta ${of} a lo largo de ${span}.`],
  [/^Not enough days yet: (\d+) days? with this fit, (\d+) are needed\.$/, (n, of) => `Aún faltan días: ${days(n!)} con este ajuste, hacen falta ${of}.`],
  [/^No clear rise or fall\.$/, () => "Sin subida ni bajada clara."],
  [/^Rising by about ([\d.]+) a week\.$/, (n) => `Sube alrededor de ${comma(n!)} a la semana.`],
  [/^Falling by about ([\d.]+) a week\.$/, (n) => `Baja alrededor de ${comma(n!)} a la semana.`],
  [/^At (\d+) ply on most days of the last week\.$/, (n) => `En ${n} ply casi todos los días de la última semana.`],
  [/^No date in sight for (\d+) ply\.$/, (n) => `Sin fecha a la vista para ${n} ply.`],
  [/^Chance of (\d+) ply on most days of a week within 90 days: (.+)\.$/, (n, chance) => `Probabilidad de ${n} ply casi todos los días de una semana en 90 días: ${turned(chance!, CHANCES) ?? chance}.`],
];

function turned(text: string, turns: readonly Turn[]): string | null {
  for (const [pattern, made] of turns) {
    const found = pattern.exec(text);
    if (found) return made(...found.slice(1));
  }
  return null;
}

/** One or more sentences of the server. */
export const said = (text: string): string =>
  turned(text, SENTENCES) ?? text.split(/(?<=\.) (?=[A-Z])/).map((sentence) => turned(sentence, SENTENCES) ?? sentence).join(" ");
