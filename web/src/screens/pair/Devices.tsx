// The devices of the logbook: who they are, shutting one out, a code for one more.
import { useEffect, useState } from "preact/hooks";
import { settings } from "../../log/book";
import { localDay, zoneNow } from "../../log/clock";
import { devices, newCode, revoke, type Device, type PairCode } from "../../log/pairing";
import { BigButton, TextButton } from "../../parts/buttons";
import { Row, Rows } from "../../parts/rows";
import { Squares } from "../../parts/Squares";
import { clock, nearDay } from "../../times";
import { t } from "../../words";

export function Devices() {
  const [list, setList] = useState<Device[] | null>(null);
  const [sure, setSure] = useState<Device | null>(null);
  const [made, setMade] = useState<PairCode | null>(null);
  const [failed, setFailed] = useState(false);
  const load = () => devices().then((found) => { setList(found); setFailed(false); }, () => setFailed(true));
  useEffect(() => { void load(); }, []);
  const { day_starts } = settings.value;
  const day = (at: string) => nearDay(localDay(at, zoneNow(), day_starts), day_starts).toLowerCase();
  const remove = (device: Device) => revoke(device.id).then(() => { setSure(null); void load(); }, () => setFailed(true));
  const add = () => newCode().then((code) => { setMade(code); setFailed(false); }, () => setFailed(true));
  return (
    <section class="field">
      <h2>{t("pair.devices")}</h2>
      {failed && <p role="alert">{t("pair.devices_offline")}</p>}
      {list && (
        <Rows label={t("pair.devices")}>
          {list.map((device) => (
            <Row key={device.id} small={device.this ? t("pair.this_device") : t("pair.seen", { day: day(device.seen_at) })}
              side={!device.this && <TextButton label={t("pair.revoke_of", { name: nameOf(device) })} onClick={() => setSure(device)}>{t("pair.revoke")}</TextButton>}>
              {nameOf(device)}
            </Row>
          ))}
        </Rows>
      )}
      {sure && (
        <div class="trouble said" role="alertdialog" aria-label={t("pair.revoke_of", { name: nameOf(sure) })}>
          <p>{t("pair.revoke_sure", { name: nameOf(sure) })}</p>
          <div class="acts"><TextButton onClick={() => void remove(sure)}>{t("pair.revoke_yes")}</TextButton><TextButton onClick={() => setSure(null)}>{t("common.cancel")}</TextButton></div>
        </div>
      )}
      {made ? <Code made={made} /> : <BigButton out onClick={() => void add()} small={t("pair.add_small")}>{t("pair.add")}</BigButton>}
    </section>
  );
}

const nameOf = (device: Device) => device.name || t("pair.device_default");

const Code = ({ made }: { made: PairCode }) => (
  <div class="card" role="status">
    <p class="small quiet">{t("pair.add_read")}</p>
    <p class="code-large">{made.code}</p>
    <p class="small">{t("pair.add_until", { time: clock(made.expires) })}</p>
    <Squares rows={made.squares} label={t("pair.qr")} />
  </div>
);
