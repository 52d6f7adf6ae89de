// Two languages, one catalogue: the same texts, each with the same blanks, and none left in English.
import assert from "node:assert/strict";
import { test } from "node:test";
import english from "../../server/plytide/data/signs.json";
import spanishSigns from "../../server/plytide/data/signs.es.json";
import limb from "../../server/plytide/data/limb.json";
import type { Sign } from "../src/log/summary";
import { ownEntered } from "../src/signs/entered";
import { ownSign } from "../src/signs/own";
import { clock, fullDate, number } from "../src/times";
import { lang, locale, said, speak, t, type Key } from "../src/words";
import type { Words } from "../src/words/shape";
import * as es from "../src/words/es";
import { common } from "../src/words/en/common";
import * as rest from "../src/words/en/rest";
import { today } from "../src/words/en/today";

type Areas = Record<string, Words>;
const EN = { ...rest, common: { ...common, ...rest.common }, today: { ...today, ...rest.today } } as unknown as Areas;
const ES = es as unknown as Areas;

/** Said alike in both languages, once the blanks are out: units, marks and the words that are the same. */
const ALIKE = /^(ply|min|h|°C|cm|in|No|Dial|Diabetes|Liner|cm, °C|in, °F)?[\P{L}]*$/iu;
const blanks = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map((found) => found[1]!).sort();
const forms = (text: Words[string]) => (typeof text === "string" ? { other: text } : text);

const pairs = Object.entries(EN).flatMap(([area, words]) => Object.keys(words).map((key) => [`${area}.${key}`, forms(words[key]!), forms(ES[area]![key]!)] as const));

test("both have the same texts", () => {
  assert.ok(pairs.length > 700);
  for (const [area, words] of Object.entries(EN)) assert.deepEqual(Object.keys(ES[area]!).sort(), Object.keys(words).sort(), area);
});

test("each text has the same blanks and the same plural forms", () => {
  for (const [key, one, other] of pairs) {
    assert.deepEqual(Object.keys(other), Object.keys(one), key);
    for (const form of Object.keys(one) as (keyof typeof one)[]) {
      const [here, there] = [blanks(one[form]!), blanks(other[form]!)];
      if (form === ("one" as never)) assert.deepEqual(there.filter((b) => b !== "n"), here.filter((b) => b !== "n"), key); // "1" may be written out
      else assert.deepEqual(there, here, key);
    }
  }
});

test("nothing is left in English", () => {
  const same = pairs.filter(([, one, other]) => JSON.stringify(one) === JSON.stringify(other) && !ALIKE.test(one.other.replace(/\{\w+\}[\s:.]*/g, "").trim()));
  assert.deepEqual(same.map(([key, one]) => `${key}: ${one.other}`), []);
});

test("Spanish keeps to its terms, and praises and blames no more than English", () => {
  for (const [key, , other] of pairs)
    for (const text of Object.values(other)) assert.doesNotMatch(text!, /\b(calcetín|calcetines|usted|su clínica|socket|¡|bien hecho|olvidaste)\b|%|¡/i, key);
});

test("the texts of signs: the same rules, steps and blanks", () => {
  const own = spanishSigns.rules as Record<string, Record<string, string | string[]>>;
  assert.deepEqual(Object.keys(own).sort(), english.rules.map((rule) => rule.code).sort());
  for (const rule of english.rules as unknown as Record<string, string | string[]>[])
    for (const part of ["title", "rule", "do", "source", "entered", "entered_never", "entered_day"]) {
      const [one, other] = [rule[part], own[String(rule["code"])]![part]];
      assert.equal(other?.length === 0, one?.length === 0, `${String(rule["code"])} ${part}`);
      assert.equal(typeof other, typeof one, `${String(rule["code"])} ${part}`);
      assert.deepEqual(blanks([other ?? ""].flat().join(" ")), blanks([one ?? ""].flat().join(" ")), `${String(rule["code"])} ${part}`);
      if (Array.isArray(one)) assert.equal(other!.length, one.length);
    }
});

test("every place of the table of the limb has its name", () => {
  for (const [level, { regions }] of Object.entries(limb.levels))
    for (const region of regions) assert.ok(es.places[`${level}_${region.id}`], `${level}_${region.id}`);
});

test("spoken, it is Spanish with the reader's dates and numbers; back again it is English", async () => {
  await speak("es");
  assert.equal(lang.value, "es");
  assert.match(locale(), /^es/);
  assert.equal(t("common.waiting", { n: 3 }), "en este teléfono; 3 por enviar");
  assert.equal(t("today.more_signs" as Key, { n: 1 }), "1 aviso más");
  assert.equal(t("today.more_signs" as Key, { n: 2 }), "2 avisos más");
  assert.equal(number(1.5), "1,5"); // decimal comma in Spanish: Unicode CLDR
  assert.equal(fullDate("2031-06-12"), "12 de junio de 2031"); // the same
  assert.equal(clock("2031-06-12T05:10:00Z", "UTC"), "05:10");
  await speak("en");
  assert.equal(t("common.waiting", { n: 3 }), "on this phone; 3 waiting");
});

test("what the server says in English is said in Spanish, and an unknown sentence stays", async () => {
  await speak("es");
  assert.equal(said("about 3 days in 4"), "unos 3 días de cada 4");
  assert.equal(said("about 1 day in 10"), "cerca de 1 día de cada 10");
  assert.equal(said("Rising by about 0.4 a week. Chance of 12 ply on most days of a week within 90 days: 1 in 5."),
    "Sube alrededor de 0,4 a la semana. Probabilidad de 12 ply casi todos los días de una semana en 90 días: 1 de 5.");
  assert.equal(said("Not enough days yet: 1 day with this fit, 5 over 6 days are needed."), "Aún faltan días: 1 día con este ajuste, hacen falta 5 a lo largo de 6 días.");
  assert.equal(said("Not enough days yet: 1 day with this fit in four weeks, 5 are needed."), "Aún faltan días: 1 día con este ajuste en cuatro semanas, hacen falta 5.");
  assert.equal(said("Sore here on 3 of 5 days with less ply than usual by that hour, and on 2 of 22 other days. Too few days to say more."),
    "Dolor aquí en 3 de 5 días con menos ply de lo habitual a esa hora, y en 2 de 22 de los otros días. Son muy pocos días para decir más.");
  assert.equal(said("Pixel 9 was paired."), "Se vinculó Pixel 9.");
  assert.equal(said("Something new."), "Something new.");
  await speak("en");
});

const sign = (code: string, entered: string, level: Sign["level"] = "review"): Sign =>
  ({ code, level, entered, since: "2031-06-12T08:00:00.000Z", evidence: [], title: "A title", do: ["A step"], keep_off: false, source: "A source", told: null });

test("a sign of the server is told in Spanish: title, steps, source, and what was entered", async () => {
  await speak("es");
  const own = ownSign(sign("ply_review", ""), { clinic_phone: "210 000 000" });
  assert.equal(own.title, "Ply en su límite o cerca");
  assert.deepEqual(own.do, ["Díselo a tu clínica (210 000 000) en unos días.", "Lleva a la cita las medias que usas.", "Pregunta cuánto tardan una cita y un encaje nuevo."]);
  assert.equal(ownSign(sign("of_a_later_version", ""), {}).title, "A title");
  const limit = "10 ply or more on most days of a week, or a steady rise that more likely than not reaches 12 ply within 90 days, is told to the clinic.";
  assert.equal(ownEntered(sign("ply_review", `You logged 10 ply or more on 4 of the last 7 days with a log. ${limit}`)),
    "Anotaste 10 ply o más en 4 de los últimos 7 días con notas. 10 ply o más casi todos los días de una semana, o una subida constante que más probablemente que no llega a 12 ply en 90 días, se le dice a la clínica.");
  const rise = "Your daily peak rose by about 0.4 ply a week from 3 March to 20 April.";
  assert.match(ownEntered(sign("ply_review", `${rise} ${limit}`)), /^Tu máximo del día subió unos 0,4 ply a la semana, del 3 mar al 20 abr\. 10 ply o más/);
  assert.match(ownEntered(sign("ply_review", `You logged 10 ply or more on 4 of the last 7 days with a log. ${rise} ${limit}`)), /^Anotaste 10 ply .* 0,4 ply a la semana, del 3 mar/);
  assert.equal(ownEntered(sign("redness_long", "You entered a mark, red or darker than around (took 32 minutes to fade) and a blister. Your limit for a mark to fade is 20 minutes.")),
    "Anotaste una marca, roja o más oscura que alrededor (tardó 32 minutos en irse) y una ampolla. Tu límite para que una marca se vaya es de 20 minutos.");
  assert.match(ownEntered(sign("spot_again", "You marked shin ridge sore on 3 days within 14 days, the last on 3 March. The same spot sore on several days (3 here) is told to the clinic.")),
    /^Marcaste dolor en filo de la tibia en 3 días, dentro de 14 días, el último el 3 mar/);
  assert.match(ownEntered(sign("spot_again", "You marked shin ridge sore on 3 days within 14 days, the last on 3 March. You marked kneecap sore on 4 days within 14 days, the last on 5 March. The same spot sore on several days (3 here) is told to the clinic.")),
    /^Marcaste dolor en filo de la tibia en 3 días, .* Marcaste dolor en rótula en 4 días, .* El mismo lugar con dolor varios días \(3 aquí\)/);
  assert.match(ownEntered(sign("fitting_shift", "Your highest for the dial has been about 6.5 a day since 12 April; before it was about 3. A sudden, lasting change in how far it is set, with no change to the socket, is told to the clinic.")),
    /^Para el dial, tu máximo es de unos 6,5 al día/);
  assert.equal(ownEntered(sign("swing", "Words of a later version.")), "Words of a later version.");
  await speak("en");
});
