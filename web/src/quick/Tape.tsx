// The tape: girths at distances from the end of the limb, with the rule that makes two tapes comparable.
import { useState } from "preact/hooks";
import { entries, settings } from "../log/book";
import type { EntryOf, GirthBody } from "../log/kinds";
import { Page } from "../parts/Page";
import { BigButton, TextButton } from "../parts/buttons";
import { Segment } from "../parts/choices";
import { t } from "../words";
import { BACK } from "./back";
import { log, shownLimb } from "./form";
import { Side } from "./Side";

type Mark = { from: string; girth: string };

/** Where a first tape is taken: every 5 cm from the end. Later ones keep the levels of the one before. */
const FIRST_LEVELS = [0, 5, 10, 15];
const INCH_CM = 2.54;

export function Tape() {
  const inches = settings.value.units === "us";
  const [by, setBy] = useState<GirthBody["by"]>("self");
  const [marks, setMarks] = useState<readonly Mark[]>(() => levels(inches));
  const [problem, setProblem] = useState("");
  const put = (i: number, change: Partial<Mark>) => setMarks(marks.map((mark, n) => (n === i ? { ...mark, ...change } : mark)));
  const save = () => {
    const taken = marks.filter((mark) => mark.girth.trim() !== "").map((mark) => ({ from_end_cm: cm(mark.from, inches), girth_cm: cm(mark.girth, inches) }));
    if (taken.length === 0) return setProblem(t("quick.tape_none"));
    if (taken.some((m) => !(m.from_end_cm >= 0 && m.from_end_cm <= 100 && m.girth_cm > 0 && m.girth_cm <= 200))) return setProblem(t("quick.tape_wrong"));
    log("girth", shownLimb(), { marks: taken, by });
  };
  const unit = t(inches ? "quick.inch" : "quick.cm");
  return (
    <Page title={t("quick.tape")} back={BACK()} touch={<BigButton tall onClick={save}>{t("common.save")}</BigButton>}>
      <Side />
      <p>{t("quick.tape_rule")}</p>
      <Segment label={t("quick.tape_by")} value={by} onPick={setBy} options={[{ value: "self", label: t("quick.tape_self") }, { value: "clinic", label: t("quick.tape_clinic") }]} />
      <table class="tape">
        <thead><tr><th scope="col">{t("quick.tape_from", { unit })}</th><th scope="col">{t("quick.tape_girth", { unit })}</th></tr></thead>
        <tbody>
          {marks.map((mark, i) => (
            <tr key={i}>
              <td><input class="input" inputMode="decimal" aria-label={t("quick.tape_from_n", { n: i + 1, unit })} value={mark.from} onInput={(e) => put(i, { from: e.currentTarget.value })} /></td>
              <td><input class="input" inputMode="decimal" aria-label={t("quick.tape_girth_n", { n: i + 1, unit })} value={mark.girth} onInput={(e) => put(i, { girth: e.currentTarget.value })} /></td>
            </tr>
          ))}
        </tbody>
      </table>
      <TextButton icon="plus" onClick={() => setMarks([...marks, { from: "", girth: "" }])}>{t("quick.tape_more")}</TextButton>
      {problem && <p class="trouble said" role="alert">{problem}</p>}
      <p class="small quiet">{t("quick.tape_noise")}</p>
    </Page>
  );
}

function levels(inches: boolean): Mark[] {
  const before = entries.value.findLast((e): e is EntryOf<"girth"> => e.kind === "girth" && e.limb === shownLimb());
  const at = before ? before.body.marks.map((m) => m.from_end_cm) : FIRST_LEVELS;
  return at.map((from) => ({ from: shown(inches ? from / INCH_CM : from), girth: "" }));
}

const shown = (n: number) => String(Math.round(n * 10) / 10);

/** A typed length in centimetres, to a tenth of a millimetre; NaN where it is not a number. A comma is a decimal point. */
function cm(typed: string, inches: boolean): number {
  const value = Number(typed.trim().replace(",", ".") || "x");
  return Math.round(value * (inches ? INCH_CM : 1) * 100) / 100;
}
