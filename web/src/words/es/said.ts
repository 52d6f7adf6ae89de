// What the server says in English, in Spanish: its sentences are few, each a text of the table whose blanks hold a number,
// a date, a chance or a count of days. The clinic's page reads the same table. What is not in it comes back as it is.
import json from "../../../../server/plytide/data/said.es.json";
import { monthDay } from "../../times";

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

const AS_THEY_ARE: ReadonlySet<string> = new Set(["who", "at"]); // names and times

const pairs = json.sentences.map(([english, spanish]): [RegExp, string] => [pattern(english!), spanish!]);

function pattern(text: string): RegExp {
  const parts = text.split(/\{(\w+)\}/).map((part, i) => (i % 2 ? `(?<${part}>.+?)` : part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")));
  return new RegExp(`^${parts.join("")}(?: |$)`);
}

function value(text: string): string | null {
  if (/^[+−-]?\d+(\.\d+)?$/.test(text)) return text.replace(".", ",");
  const date = /^(\d+) ([A-Z][a-z]+)$/.exec(text), month = date ? MONTHS.indexOf(date[2]!) : -1;
  if (month >= 0) return monthDay(`2000-${String(month + 1).padStart(2, "0")}-${date![1]!.padStart(2, "0")}`);
  return turned(text);
}

/** Sentences in a row, each one of the table; null where one of them is not. */
function turned(text: string): string | null {
  for (const [english, spanish] of pairs) {
    const found = english.exec(text);
    const blanks = new Map(Object.entries(found?.groups ?? {}).map(([name, told]) => [name, AS_THEY_ARE.has(name) ? told : value(told)]));
    if (!found || [...blanks.values()].includes(null)) continue;
    const said = spanish.replace(/\{(\w+)\}/g, (_, name: string) => blanks.get(name)!);
    const rest = found[0].length < text.length ? turned(text.slice(found[0].length)) : "";
    if (rest !== null) return `${said} ${rest}`.trimEnd();
  }
  return null;
}

/** One or more sentences of the server. */
export const said = (text: string): string => turned(text) ?? text;
