// The five views of a limb: from a stored spot to the picture, and from a tap on the picture back to a spot.
//
// A picture is 300 x 420 units, x to the right, y down. The four sides are seen straight on. The end view is not a
// photograph: it unrolls the rounded end by equal area, so that a tap near its rim is as precise as one in the middle.
// A right limb is a left limb mirrored: same spot, x = 300 - x.
import { mod, RAD, shape, TYPICAL, type Point, type Shape, type Size, type Spot } from "./geometry";
import { SIDES, table, type Level, type Quarter, type Side, type View } from "./table";

export const WIDTH = table.view["width"]!, HEIGHT = table.view["height"]!;
export const FACING: Record<Quarter, number> = { front: 0, outer: 90, back: 180, inner: 270 };
export const SLOP = 14; // view units that a fingertip may miss the outline by
export const EDGE_ON = 0.92; // beyond this part of the half width a view is too oblique to trust: turn the limb
const END_SHARE = 0.35; // below this part of the end's height a spot is best seen from the end
const NEAR_MM = 1e-3; // rounding to allow at the outline
const TOWARDS: Record<View, 1 | -1> = { front: 1, back: -1, outer: -1, inner: 1, end: 1 }; // a left limb's outer (or front) to the right

/** A tap that met the limb. `oblique`: so near the outline that a neighbouring view (`turn`) shows it better. */
export type Hit = Spot & { endCap: boolean; aboveEdge: boolean; oblique: boolean; turn: View };

/** The side view whose quarter the angle lies in. */
export const sideView = (angle: number): Quarter => SIDES[Math.floor(mod(angle + 45, 360) / 90)]!;

const across = (view: View) => view === "inner" || view === "outer";

/** How one limb is placed in the pictures. Get it from `frame`, which keeps it. */
export class Frame {
  readonly limb: Shape;
  readonly scale: number;
  readonly endScale: number;
  readonly midX: number;
  readonly midY: number;
  private readonly endMidX: number;
  private readonly endMidY: number;
  private readonly v = table.view as { [K in "width" | "tip_y" | "draw_height" | "draw_width" | "end_cx" | "end_cy" | "end_size"]: number };
  private readonly flip: 1 | -1;

  constructor(level: Level, side: Side, size: Size = TYPICAL) {
    const limb = (this.limb = shape(level, size));
    this.flip = side === "left" ? 1 : -1;
    const rows = limb.heights.map((u) => limb.radii(u));
    const [front, outer, back, inner] = [0, 1, 2, 3].map((k) => Math.max(...rows.map((r) => r[k]!))) as [number, number, number, number];
    this.midX = (outer - inner) / 2;
    this.midY = (front - back) / 2;
    this.scale = Math.min(this.v.draw_height / limb.zOfU(limb.top), this.v.draw_width / Math.max(outer + inner, front + back));
    const [endFront, endOuter, endBack, endInner] = limb.radii(limb.end);
    this.endMidX = (endOuter - endInner) / 2;
    this.endMidY = (endFront - endBack) / 2;
    this.endScale = this.v.end_size / Math.max(endOuter + endInner, endFront + endBack);
  }

  /** +1 when outer (front, back and end view) or front (inner and outer view) lies to the right. */
  sign(view: View): number {
    return TOWARDS[view] * this.flip;
  }

  /** Where a point of the surface falls in a view, whether or not it faces that way. */
  project(view: View, u: number, angle: number): Point {
    const { v } = this;
    if (view === "end") {
      const rho = this.limb.radius(this.limb.end, angle) * Math.sqrt(Math.max(u, 0) / this.limb.end);
      return [
        v.end_cx + this.sign(view) * this.endScale * (rho * Math.sin(angle * RAD) - this.endMidX),
        v.end_cy - this.endScale * (rho * Math.cos(angle * RAD) - this.endMidY),
      ];
    }
    const [x, y, z] = this.limb.point(u, angle);
    const q = across(view) ? y - this.midY : x - this.midX;
    return [v.width / 2 + this.sign(view) * this.scale * q, v.tip_y - this.scale * z];
  }

  /** Where a spot is in a view, or null where the view does not show it. */
  toView(view: View, { height, angle }: Spot): Point | null {
    const u = height * this.limb.brim;
    if (view === "end") return u <= this.limb.end ? this.project(view, u, angle) : null;
    return Math.cos((angle - FACING[view]) * RAD) < -1e-12 ? null : this.project(view, u, angle);
  }

  /** The spot under a tap, or null off the limb. With `slop` a tap that just misses snaps to the outline. */
  fromView(view: View, x: number, y: number, slop = 0): Hit | null {
    return view === "end" ? this.fromEnd(x, y, slop) : this.fromSide(view, x, y, slop);
  }

  private fromEnd(x: number, y: number, slop: number): Hit | null {
    const out = (this.sign("end") * (x - this.v.end_cx)) / this.endScale + this.endMidX;
    const fore = (this.v.end_cy - y) / this.endScale + this.endMidY;
    const angle = mod(Math.atan2(out, fore) / RAD, 360);
    const rim = this.limb.radius(this.limb.end, angle), reach = Math.hypot(out, fore);
    if (reach > rim + slop / this.endScale + NEAR_MM) return null;
    const share = Math.min(1, reach / rim);
    return this.hit(share ** 2 * this.limb.end, angle, share > EDGE_ON, sideView(angle));
  }

  private fromSide(view: Quarter, x: number, y: number, slop: number): Hit | null {
    const { limb } = this;
    const z = (this.v.tip_y - y) / this.scale, miss = slop / this.scale;
    if (z < -miss - NEAR_MM || z > limb.zOfU(limb.brim) + miss + NEAR_MM) return null;
    const q = (this.sign(view) * (x - this.v.width / 2)) / this.scale + (across(view) ? this.midY : this.midX);
    for (let k = 0; k <= (slop ? 8 : 0); k++) { // beyond the first only for a tap just below the rounded end
      const u = Math.min(Math.max(limb.uOfZ(z + (miss * k) / 8), 0), limb.brim);
      const [towards, edge] = this.halfWidth(view, u, q);
      if (Math.abs(q) > edge + miss * Math.sqrt(1 - (k / 8) ** 2) + NEAR_MM) continue;
      if (edge <= 0) return this.hit(0, 0, true, "end");
      const share = Math.min(1, Math.abs(q) / edge);
      const [angle] = this.turned(view, u, q < 0 ? -share : share);
      return this.hit(u, angle, share > EDGE_ON, u < END_SHARE * limb.end ? "end" : towards);
    }
    return null;
  }

  /** Which way the half of a side view lies that `q` (mm from the axis) is in, and how wide it is at `u`. */
  halfWidth(view: Quarter, u: number, q: number): [View, number] {
    const [front, outer, back, inner] = this.limb.radii(u);
    if (across(view)) return q >= 0 ? ["front", front] : ["back", back];
    return q >= 0 ? ["outer", outer] : ["inner", inner];
  }

  /** [angle, depth towards the eye in mm] at `share` (-1 to 1) of the half width of a side view. */
  turned(view: Quarter, u: number, share: number): [number, number] {
    const n = this.limb.square(u, across(view) ? share >= 0 : view === "front");
    const depth = Math.max(0, 1 - Math.abs(share) ** n) ** (1 / n) * this.limb.radii(u)[SIDES.indexOf(view)]!;
    const away = view === "front" || view === "outer" ? depth : -depth;
    const q = share * this.halfWidth(view, u, share)[1];
    return [mod((across(view) ? Math.atan2(away, q) : Math.atan2(q, away)) / RAD, 360), depth];
  }

  private hit(u: number, angle: number, oblique: boolean, turn: View): Hit {
    return { height: u / this.limb.brim, angle, endCap: u <= this.limb.end, aboveEdge: u > this.limb.edge(angle), oblique, turn };
  }

  /** The view that shows a stored spot most squarely. */
  bestView({ height, angle }: Spot): View {
    return height * this.limb.brim < END_SHARE * this.limb.end ? "end" : sideView(angle);
  }
}

const frames = new Map<string, Frame>();

/** The pictures of one limb; made once and kept. */
export function frame(level: Level, side: Side, size: Size = TYPICAL): Frame {
  const key = JSON.stringify([level, side, size]);
  let found = frames.get(key);
  if (!found) frames.set(key, (found = new Frame(level, side, size)));
  return found;
}
