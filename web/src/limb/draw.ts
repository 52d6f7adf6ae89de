// The drawing of a limb as SVG: outline, depth lines, quiet shade, landmarks, and the usual socket edge.
//
// It carries no data and no colour: classes only, so that page, paper and dark mode colour it. What is logged is laid
// over it by parts/LimbPicture.tsx. server/plytide/limb/draw.py draws the same.
import { brush, distance, same, smooth, straight, thin, type Line } from "./contour";
import { depthLines, drawn, ground, inSocket, runs, shades } from "./form";
import { RAD, TYPICAL, type Point, type Size } from "./geometry";
import { featureLine } from "./relief";
import type { Level, Quarter, Side, View } from "./table";
import { FACING, frame, type Frame } from "./views";

const OUTLINE_STEPS = 60;
const STRONG = 0.5; // ink of a landmark from which it is drawn dark
const TURNED = 8; // degrees from edge-on within which a landmark is not drawn
const RING_TURNED = 12;
const STITCH = 3;

/** One path of a drawing: its class and its `d`. */
export type Path = readonly [name: string, d: string];

const made = new Map<string, Path[]>();
const keyOf = (level: Level, side: Side, view: View, size: Size): string => JSON.stringify([level, side, view, size]);

/** The paths of one view, in painting order; made once and kept. About 6 KB. */
export function drawing(level: Level, side: Side, view: View, size: Size = TYPICAL): Path[] {
  const key = keyOf(level, side, view, size);
  let found = made.get(key);
  if (!found) made.set(key, (found = draw(frame(level, side, size), view)));
  return found;
}

/** The same where it is made already, else its outline alone, which is soon made. */
export function sketch(level: Level, side: Side, view: View, size: Size = TYPICAL): { paths: Path[]; whole: boolean } {
  const found = made.get(keyOf(level, side, view, size));
  if (found) return { paths: found, whole: true };
  const { body, far, edge, line } = outlined(frame(level, side, size), view);
  return { paths: painted([["limb-body", body], ["limb-far", far], ["limb-edge", edge], ["limb-line", line]]), whole: false };
}

const painted = (paths: Path[]): Path[] => paths.filter(([, d]) => d);

function draw(pictures: Frame, view: View): Path[] {
  const seen = ground(pictures, view);
  const { body, far, edge, line } = outlined(pictures, view);
  const marks = landmarks(pictures, view);
  return painted([
    ["limb-body", body],
    ...shades(pictures, view, seen).map((layer): Path => ["limb-shade", layer.map(smooth).join("")]),
    ["limb-depth", depthLines(pictures, view, seen).map(smooth).join("")],
    ["limb-far", far + marks.above],
    ["limb-faint", marks.faint],
    ["limb-stroke", marks.dark],
    ["limb-bone", marks.bone],
    ["limb-dot", marks.dots],
    ["limb-scar", marks.scar],
    ["limb-edge", edge],
    ["limb-line", line],
  ]);
}

/** The outline as path data: the limb's body, what goes on above the socket edge, that edge, and the line around. */
function outlined(pictures: Frame, view: View) {
  const { own, rim, far } = outline(pictures, view);
  const body = rim.length ? [...own, ...rim.slice(1, -1).reverse()] : own;
  return {
    body: straight(thin(body, 0.1), true),
    far: far.map((line) => smooth(thin(line, 0.2))).join(""),
    edge: rim.length ? smooth(thin(rim, 0.15)) : "",
    line: straight(thin(own, 0.1)),
  };
}

/**
 * The limb in its socket, the socket edge, and the body going on above it, as lines of the picture. The first runs from
 * the left end of the edge down round the tip and up to its right end. On the end view it is closed, the others empty.
 */
export function outline(pictures: Frame, view: View): { own: Line; rim: Line; far: Line[] } {
  const { limb } = pictures;
  if (view === "end") {
    const own = Array.from({ length: 73 }, (_, i) => pictures.project("end", limb.end, 5 * i));
    return { own, rim: [], far: [] };
  }
  const pair = view === "front" || view === "back" ? [90, 270] : [0, 180];
  const [right, left] = (pictures.sign(view) < 0 ? pair.reverse() : pair) as [number, number];
  const us = Array.from({ length: OUTLINE_STEPS + 1 }, (_, i) => limb.top * (i / OUTLINE_STEPS) ** 2);
  const along = (angle: number, above: boolean): Line => {
    const edge = limb.edge(angle);
    const picked = above ? [edge, ...us.filter((u) => u > edge)] : [...us.filter((u) => u < edge), edge];
    return picked.map((u) => pictures.project(view, u, angle));
  };
  const own = [...along(left, false).reverse(), ...along(right, false).slice(1)];
  let rim = Array.from({ length: 31 }, (_, i) => FACING[view] - 90 + 6 * i).map((a) => pictures.project(view, limb.edge(a), a));
  if (rim[0]![0] >= rim.at(-1)![0]) rim = rim.reverse();
  const far = [along(left, true), along(right, true)];
  if (limb.table.other_leg && (view === "front" || view === "back")) far[left === 270 ? 0 : 1] = otherLeg(pictures, view);
  return { own, rim, far };
}

/** From the inner end of the edge over the crotch and down the other thigh. */
function otherLeg(pictures: Frame, view: Quarter): Line {
  const { midline_mm, crotch_mm } = pictures.limb.table.other_leg!;
  const sign = pictures.sign(view);
  const middle = pictures.project(view, 0, 0)[0] - sign * pictures.scale * midline_mm * pictures.limb.swell(crotch_mm);
  const own = Array.from({ length: 13 }, (_, i) => pictures.project(view, crotch_mm * (1 - (0.5 * i) / 12), 270));
  const top = own[0]![1];
  return [
    own[0]!, [middle + sign * 3, top - 4], [middle, top - 5.5], [middle - sign * 3, top - 4],
    ...own.map(([x, y]): Point => [2 * middle - x, y]),
  ];
}

/** Paths of the landmarks shown: dark and faint strokes, bones, their dots, scars, and what is above the edge. */
function landmarks(pictures: Frame, view: View) {
  const { limb } = pictures;
  const out = { dark: "", faint: "", bone: "", dots: "", scar: "", above: "" };
  const faces = ([u, angle]: Point, degrees: number) =>
    view === "end" ? u <= limb.end * 0.98 : Math.cos((angle - FACING[view]) * RAD) > Math.sin(degrees * RAD);
  for (const feature of limb.table.features) {
    if (!feature.ink) continue;
    const places = featureLine(limb, feature), ring = feature.kind === "ring";
    const shown = runs(places, (p) => faces(p, ring ? RING_TURNED : TURNED)).filter((run) => run.length > 1);
    if (ring && shown[0]?.length !== places.length) continue;
    for (const stretch of shown) {
      const outside = runs(stretch, (p) => !inSocket(pictures, view, p));
      out.above += drawn(pictures, view, outside, 6).map(smooth).join("");
      for (const line of drawn(pictures, view, runs(stretch, (p) => inSocket(pictures, view, p)), 6, 0.3)) {
        const closed = same(line[0]!, line.at(-1)!) || same(places[0]!, places.at(-1)!);
        if (feature.kind === "scar") out.scar += smooth(line) + stitches(line);
        else if (ring || closed) out.bone += smooth(line);
        else out[feature.ink >= STRONG ? "dark" : "faint"] += smooth(brush(line, swell));
      }
    }
    if (ring) {
      const [height, angle] = feature.pts[0]!, at = pictures.project(view, height * limb.brim, angle);
      out.dots += straight([at, at]);
    }
  }
  return out;
}

const swell = (t: number) => 0.5 + 1.6 * Math.max(0, Math.sin(Math.PI * t)) ** 0.7;

/** Short strokes across a line, at even steps along it. */
function stitches(line: Line): string {
  let out = "", walked = 0, due = 7;
  for (let i = 1; i < line.length; i++) {
    const [x0, y0] = line[i - 1]!, [x1, y1] = line[i]!, length = distance(line[i - 1]!, line[i]!);
    for (; due <= walked + length; due += 14) {
      const t = (due - walked) / length, x = x0 + (x1 - x0) * t, y = y0 + (y1 - y0) * t;
      const dx = ((y1 - y0) / length) * STITCH, dy = ((x0 - x1) / length) * STITCH;
      out += straight([[x - dx, y - dy], [x + dx, y + dy]]);
    }
    walked += length;
  }
  return out;
}
