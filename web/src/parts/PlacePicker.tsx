// A place on the limb, tapped on the drawing or chosen from a list. Both say the same: a spot.
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import type { HeatPoint } from "../log/summary";
import { rounded, type Spot } from "../limb/geometry";
import { placeName, regionName, type OwnLimb } from "../limb/names";
import { centre, regionId, regionsOf } from "../limb/regions";
import { VIEWS, type View } from "../limb/table";
import { frame, SLOP } from "../limb/views";
import { t } from "../words";
import { Segment } from "./choices";
import { LimbPicture, type Mark } from "./LimbPicture";
import { PickRow, Rows } from "./rows";

export type Mode = "drawing" | "list";

type Props = {
  limb: OwnLimb;
  mode: Mode;
  spot: Spot | null;
  onSpot: (spot: Spot) => void;
  /** What stands in the mark being placed. */
  text?: string;
  earlier?: readonly Mark[];
  heat?: readonly HeatPoint[];
  /** In the corner of the drawing. */
  corner?: ComponentChildren;
  /** What to do while no place is chosen. */
  ask: string;
  /** What was just done, in its place. */
  done?: ComponentChildren;
  /** In small letters under a region in the list, by its id. */
  notes?: ReadonlyMap<string, string>;
};

export function PlacePicker({ limb, mode, spot, onSpot, text, earlier = [], heat, corner, ask, done, notes }: Props) {
  const { level, side, size } = limb;
  const pictures = frame(level, side, size);
  const [view, setView] = useState<View>(spot ? pictures.bestView(spot) : "front");
  const [turned, setTurned] = useState(false);
  const show = (next: View) => { setView(next); setTurned(false); };
  const tap = (x: number, y: number) => {
    const hit = pictures.fromView(view, x, y, SLOP);
    if (!hit) return;
    const turn = hit.oblique && hit.turn !== view;
    if (turn) setView(hit.turn);
    setTurned(turn);
    onSpot(rounded(hit));
  };
  const now = spot ? { spot, ...(text ? { text } : {}) } : null;
  const chosen = spot && placeName(level, spot);
  const away = earlier.filter((mark) => !pictures.toView(view, mark.spot)).length;
  const said = [
    t(`limb.picture_${side}`, { view: t(`limb.seen_${view}`) }),
    chosen && t("limb.marked", { what: chosen }),
    earlier.length > away && t("limb.earlier", { n: earlier.length - away }),
    away > 0 && t("limb.elsewhere", { n: away }) + ".",
  ].filter(Boolean).join(" ");
  return (
    <div class={`place ${mode}`}>
      {mode === "drawing" && <LimbPicture limb={limb} view={view} label={said} now={now} earlier={earlier} tender={limb.tender} heat={heat ?? []} corner={corner} onTap={tap} />}
      {mode === "drawing" && (
        <div class="under">
          <p role="status">{turned ? <><b>{chosen}.</b> {t(`limb.turned_${view}`)}</> : chosen ? <b>{chosen}</b> : done || ask}</p>
          {!turned && (chosen || !done) && (earlier.length > 0 || !chosen) && (
            <p class="key">{away > 0 ? t("limb.elsewhere", { n: away }) : earlier.length === 0 ? t("limb.dashes") : t(earlier.some((mark) => (mark.times ?? 1) > 1) ? "limb.again" : "limb.rings")}</p>
          )}
        </div>
      )}
      {mode === "list" && <div role="status">{done}</div>}
      <Segment label={t("limb.views")} value={view} onPick={show} options={VIEWS.map((one) => ({ value: one, label: t(`limb.view_${one}`) }))} />
      {mode === "list" && <PlaceList limb={limb} view={view} spot={spot} onSpot={onSpot} label={ask} notes={notes} />}
    </div>
  );
}

type ListProps = Pick<Props, "limb" | "spot" | "onSpot"> & { view: View; label: string; notes: Props["notes"] | undefined };

function PlaceList({ limb, view, spot, onSpot, label, notes }: ListProps) {
  const name = useId();
  const chosen = spot && regionId(limb.level, spot);
  return (
    <div role="radiogroup" aria-label={label}>
      <Rows>
        {regionsOf(limb.level, view).map((region) => (
          <PickRow key={region.id} name={name} checked={region.id === chosen} onPick={() => onSpot(rounded(centre(region)))} small={notes?.get(region.id)}>
            {regionName(limb.level, region.id)}
          </PickRow>
        ))}
      </Rows>
    </div>
  );
}
