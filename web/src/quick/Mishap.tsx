// Something went wrong with the leg or on the way. A fall has its questions; what they call for at once is shown at once.
import { useState } from "preact/hooks";
import { settings } from "../log/book";
import type { MishapBody } from "../log/kinds";
import { TEXT_MAX } from "../log/kinds";
import { Page } from "../parts/Page";
import { BigButton } from "../parts/buttons";
import { CheckRow, PickRow, Rows } from "../parts/rows";
import { SignCard } from "../parts/SignCard";
import { metBy, steps, titleOf } from "../signs/rules";
import { t } from "../words";
import { BACK } from "./back";
import { log, shownLimb } from "./form";
import { Side } from "./Side";

type What = MishapBody["what"];
const ALL: readonly What[] = ["suction_lost", "valve_opened", "sleeve_leak", "wet", "twisted", "part_failed", "cannot_don", "stumble", "fall"];
const ASKED = ["hurt", "head", "cannot_stand"] as const;

export function Mishap() {
  const [what, setWhat] = useState<What | null>(null);
  const [flags, setFlags] = useState<readonly string[]>([]);
  const [note, setNote] = useState("");
  const asks = what === "fall" || what === "stumble";
  const body = (one: What): MishapBody => {
    const said = (flag: (typeof ASKED)[number]) => asks && flags.includes(flag);
    return { what: one, hurt: said("hurt"), head: said("head"), cannot_stand: said("cannot_stand"), note };
  };
  const met = what ? metBy("mishap", body(what), settings.value).filter(({ level }) => level !== "watch") : [];
  const save = () => { if (what) log("mishap", shownLimb(), body(what)); };
  return (
    <Page title={t("quick.mishap")} back={BACK()} touch={<BigButton tall disabled={!what} onClick={save}>{t("common.save")}</BigButton>}>
      <Side />
      <Rows label={t("quick.mishap")}>
        {ALL.map((one) => (
          <PickRow key={one} name="mishap" checked={what === one} onPick={() => setWhat(one)}>{t(`entry.${one}`)}</PickRow>
        ))}
      </Rows>
      {asks && (
        <section class="field">
          <h2>{t("quick.fall_ask")}</h2>
          <Rows label={t("quick.fall_ask")}>
            {ASKED.map((flag) => (
              <CheckRow key={flag} checked={flags.includes(flag)}
                onChange={(on) => setFlags(on ? [...flags, flag] : flags.filter((f) => f !== flag))}>{t(`quick.${flag}`)}</CheckRow>
            ))}
          </Rows>
          <p class="small quiet">{t("quick.fall_help")}</p>
        </section>
      )}
      <div role="alert">
        {met.map((one) => (
          <SignCard key={one.code} sign={{ level: one.level, title: titleOf(one), do: steps(one, settings.value), keep_off: one.keep_off }}
            clinicPhone={settings.value.clinic_phone} emergencyPhone={settings.value.emergency_phone} />
        ))}
      </div>
      {what && (
        <label class="label">
          <span>{t("quick.note_optional")}</span>
          <textarea class="input" maxLength={TEXT_MAX} value={note} onInput={(e) => setNote(e.currentTarget.value)} />
        </label>
      )}
    </Page>
  );
}
