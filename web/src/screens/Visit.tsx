// Getting ready: the visit, what to ask, what the next socket must do, ways to go, and what changed since the last one.
import { useState } from "preact/hooks";
import { ownPlace } from "../limb/names";
import { amend, entries, erase, settings, summary, todayDate, write } from "../log/book";
import type { EntryOf } from "../log/kinds";
import { href, type ScreenProps } from "../nav";
import { BigButton, TextButton } from "../parts/buttons";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { fullDate, nearDay, number } from "../times";
import { shownNow } from "../today/outside";
import { AskList } from "../visit/AskList";
import { asksOf, lastVisit, nextVisit, options } from "../visit/asks";
import { OptionForm } from "../visit/OptionForm";
import { since, type Since, type Then } from "../visit/since";
import { t, type Key } from "../words";

export function Visit({ at: [part, id] }: ScreenProps) {
  if (part === "option") return <OptionForm key={id} entry={entries.value.find((e): e is EntryOf<"option"> => e.kind === "option" && e.id === id)} />;
  return (
    <Page title={t("visit.title")} back={{ href: "#/more", name: t("today.more") }}
      touch={<><BigButton icon="link" href={href("link")} small={t("visit.link_small")}>{t("visit.link")}</BigButton><WaysOn current="visit" /></>}>
      <When />
      <AskList kind="question" />
      <AskList kind="need" />
      <Ways />
      <Changed />
    </Page>
  );
}

function When() {
  const next = nextVisit();
  const [open, setOpen] = useState(false);
  if (next && !open) {
    return (
      <section class="field">
        <p class="say"><b>{t("visit.next", { day: fullDate(next.body.on) })}</b> {[next.body.clinic, next.body.purpose].filter(Boolean).join(", ")}</p>
        <div class="acts-row">
          <TextButton onClick={() => setOpen(true)}>{t("visit.change")}</TextButton>
          <TextButton onClick={() => { erase(next).catch(() => {}); }}>{t("visit.remove")}</TextButton>
        </div>
      </section>
    );
  }
  return <VisitForm key={next?.id ?? "new"} entry={next} done={() => setOpen(false)} />;
}

function VisitForm({ entry, done }: { entry: EntryOf<"visit"> | undefined; done: () => void }) {
  const [body, setBody] = useState(entry?.body ?? { on: "", clinic: "", purpose: "" });
  const save = () => {
    if (!body.on) return;
    (entry ? amend(entry, { body }) : write("visit", null, body)).catch(() => {}); // the saving state tells of trouble
    done();
  };
  return (
    <section class="field">
      <h2>{t("visit.when")}</h2>
      <label class="label"><span>{t("visit.on")}</span><input class="input" type="date" min={todayDate()} value={body.on} onInput={(e) => setBody({ ...body, on: e.currentTarget.value })} /></label>
      <label class="label"><span>{t("visit.clinic")}</span><input class="input" maxLength={200} value={body.clinic ?? ""} onInput={(e) => setBody({ ...body, clinic: e.currentTarget.value })} /></label>
      <label class="label"><span>{t("visit.purpose")}</span><input class="input" maxLength={2000} value={body.purpose ?? ""} onInput={(e) => setBody({ ...body, purpose: e.currentTarget.value })} /></label>
      <BigButton out disabled={!body.on} onClick={save}>{t("visit.save")}</BigButton>
    </section>
  );
}

function Ways() {
  const needs = asksOf("need");
  return (
    <section class="field">
      <h2>{t("visit.options")}</h2>
      <p class="small quiet">{t("visit.options_what")}</p>
      {options().length > 0 && (
        <Rows label={t("visit.options")}>
          {options().map((one) => (
            <Row key={one.id} href={href("visit", "option", one.id)} small={standing(one, needs)}>{one.body.name}</Row>
          ))}
        </Rows>
      )}
      <TextButton icon="plus" href={href("visit", "option", "new")}>{t("visit.option_add")}</TextButton>
    </section>
  );
}

/** "socket: meets 2 of 3, 1 to ask" and which firm need it does not meet. */
function standing(one: EntryOf<"option">, needs: readonly EntryOf<"need">[]): string {
  const says = (what: string) => needs.filter(({ id }) => one.body.meets?.[id] === what);
  const broken = says("no").filter(({ body }) => body.firm).map(({ body }) => body.text);
  return [
    t(`visit.kind_${one.body.kind}`), needs.length > 0 && t("visit.meets_n", { n: says("yes").length, of: needs.length }),
    says("ask").length > 0 && t("visit.to_ask", { n: says("ask").length }), broken.length > 0 && t("visit.breaks", { what: broken.join("; ") }),
  ].filter(Boolean).join(", ");
}

function Changed() {
  const last = lastVisit();
  const side = shownNow().limb;
  const limb = summary.value?.limbs[side];
  return (
    <section class="field">
      <h2>{t("visit.since")}</h2>
      {!last && <p class="quiet">{t("visit.since_none")}</p>}
      {last && !limb && <p class="quiet">{t("pattern.no_reading")}</p>}
      {last && limb && <Told told={since(limb, last.body.on, todayDate(), (spot) => ownPlace(side, spot))} on={last.body.on} />}
    </section>
  );
}

function Told({ told, on }: { told: Since; on: string }) {
  const starts = settings.value.day_starts;
  const both = (name: "peak" | "hours" | "comfort", { then, now }: Then) =>
    then !== null && now !== null ? <Row key={name} side={<b>{number(then)} → {number(now)}</b>}>{t(`visit.since_${name}`)}</Row> : null;
  const count = (name: "sore" | "findings" | "mishaps", n: number) => <Row key={name} side={<b>{n}</b>}>{t(`visit.since_${name}`)}</Row>;
  return (
    <>
      <p>{t("visit.since_days", { day: fullDate(on), days: told.days, logged: told.logged })}</p>
      <Rows label={t("visit.since")}>
        {both("peak", told.peak)}{both("hours", told.hours)}{both("comfort", told.comfort)}
        {count("sore", told.sore)}{count("findings", told.findings)}{count("mishaps", told.mishaps)}
        {told.newPlaces.map((place) => <Row key={place}>{t("visit.new_place", { place })}</Row>)}
        {told.changes.map(({ what, on }) => <Row key={what + on}>{t(`pattern.change_${what}` as Key)}, {nearDay(on, starts)}</Row>)}
      </Rows>
      <p class="small quiet">{t("visit.since_note")}</p>
    </>
  );
}
