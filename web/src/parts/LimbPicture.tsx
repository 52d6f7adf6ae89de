// One view of a limb with what is marked on it. For the eye and the pointer: what it shows is also in its label, and every
// place in it can be chosen from a list (PlacePicker).
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { HeatPoint } from "../log/summary";
import { drawing, sketch } from "../limb/draw";
import type { Point, Spot } from "../limb/geometry";
import { halftone } from "../limb/halftone";
import { spread } from "../limb/spread";
import type { OwnLimb } from "../limb/names";
import { FACING, frame, HEIGHT, WIDTH, type Frame } from "../limb/views";
import type { Quarter, View } from "../limb/table";
import { t } from "../words";

/** A mark: `text` stands in it, usually how sore it was; `times` marks at one place are one, with a second ring. */
export type Mark = { spot: Spot; text?: string; times?: number };

type Props = {
  limb: OwnLimb;
  view: View;
  label: string;
  /** The one being placed or just saved: filled, with a ring. */
  now?: Mark | null;
  /** Earlier ones: open rings. */
  earlier?: readonly Mark[];
  tender?: readonly Spot[];
  heat?: readonly HeatPoint[];
  /** In the lower corner beside the end of the limb. */
  corner?: ComponentChildren;
  /** A tap, in view units. */
  onTap?: (x: number, y: number) => void;
};

const GAP = 28, ROOM = 34; // view units between the middles of two rings, and from the one being placed
const LED = 8; // moved by less, a ring still lies on its place
const TENDER_MM = 14;
const ABOVE = 26; // view units shown above the usual socket edge

export function LimbPicture({ limb, view, label, now, earlier = [], tender = [], heat = [], corner, onTap }: Props) {
  const { level, side, size } = limb;
  // The outline first, so that a tap that leads here is answered at once; landmarks and shade a frame later.
  const { paths, whole } = sketch(level, side, view, size);
  const [, again] = useState({});
  useEffect(() => { if (!whole) { drawing(level, side, view, size); again({}); } });
  const pictures = frame(level, side, size);
  const [top, height] = window_(pictures, view);
  const [left, right] = ends(pictures, view);
  const present = now && pictures.toView(view, now.spot);
  const seen = earlier.flatMap((mark) => { const at = pictures.toView(view, mark.spot); return at ? [{ mark, at }] : []; });
  const drawn = spread(seen.map(({ at }) => at), GAP, present || null, ROOM);
  const tap = onTap && ((event: MouseEvent & { currentTarget: SVGSVGElement }) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(event.currentTarget.getScreenCTM()!.inverse());
    onTap(at.x, at.y);
  });
  return (
    <div class={`stage ${view}`}>
      <svg class="limb" viewBox={`0 ${top} ${WIDTH} ${height}`} role="img" aria-label={label} onClick={tap}>
        {paths.map(([name, d]) => <path class={name} d={d} />)}
        {heat.length > 0 && halftone(level, side, view, size, heat).map(([name, d]) => <path class={name} d={d} />)}
        {tender.map((spot) => <Tender pictures={pictures} view={view} spot={spot} />)}
        {seen.map(({ at }, i) => <Lead from={at} to={drawn[i]!} />)}
        {seen.map(({ mark }, i) => <Ring at={drawn[i]!} mark={mark} />)}
        {now && present && <Ring at={present} mark={now} present />}
      </svg>
      <span class="word left" aria-hidden="true">{t(`limb.side_${left}`)}</span>
      <span class="word right" aria-hidden="true">{t(`limb.side_${right}`)}</span>
      {view === "end" && <span class="word over" aria-hidden="true">{t("limb.side_front")}</span>}
      {view === "end" && <span class="word under" aria-hidden="true">{t("limb.side_back")}</span>}
      {corner && <div class="corner">{corner}</div>}
    </div>
  );
}

/** The part of the picture that is shown, [top, height]: from a little above the socket edge; the end in the middle of as much. */
function window_(pictures: Frame, view: View): [number, number] {
  const edges = [0, 90, 180, 270].map((angle) => pictures.project("front", pictures.limb.edge(angle), angle)[1]);
  const top = Math.round(Math.max(0, Math.min(...edges) - ABOVE)), height = HEIGHT - 8 - top;
  return view === "end" ? [Math.round(210 - height / 2), height] : [top, height];
}

/** Which sides lie to the left and to the right. */
function ends(pictures: Frame, view: View): [Quarter, Quarter] {
  const [towards, away]: [Quarter, Quarter] = view === "inner" || view === "outer" ? ["front", "back"] : ["outer", "inner"];
  return pictures.sign(view) > 0 ? [away, towards] : [towards, away];
}

function Ring({ at: [x, y], mark, present }: { at: Point; mark: Mark; present?: boolean }) {
  const name = present ? "limb-now" : "limb-earlier";
  return (
    <g>
      {present && <circle class="limb-ring" cx={x} cy={y} r="20" />}
      {(mark.times ?? 1) > 1 && <circle class="limb-again" cx={x} cy={y} r="15.5" />}
      <circle class={name} cx={x} cy={y} r={present ? 14 : 12} />
      {mark.text && <text class={`${name}-text`} x={x} y={y + 5.4}>{mark.text}</text>}
    </g>
  );
}

/** A ring that had to make room is joined to its place. */
function Lead({ from, to }: { from: Point; to: Point }) {
  if (Math.hypot(from[0] - to[0], from[1] - to[1]) < LED) return null;
  return <><path class="limb-lead" d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} /><circle class="limb-place" cx={from[0]} cy={from[1]} r="3" /></>;
}

/** A place to be watched: one size on the limb, so an oval towards the outline. */
function Tender({ pictures, view, spot }: { pictures: Frame; view: View; spot: Spot }) {
  const at = pictures.toView(view, spot);
  if (!at) return null;
  const r = TENDER_MM * (view === "end" ? pictures.endScale : pictures.scale);
  const narrow = view === "end" ? 1 : Math.max(0.3, Math.cos(((spot.angle - FACING[view]) * Math.PI) / 180));
  return <ellipse class="limb-tender" cx={at[0]} cy={at[1]} rx={r * narrow} ry={r} />;
}
