"""The five views of a limb: from a stored spot to the picture, and from a tap on the picture back to a spot.

A picture is 300 x 420 units, x to the right, y down. The four sides are seen straight on. The end view is not a
photograph: it unrolls the rounded end by equal area, so that a tap near its rim is as precise as one in the middle.
A right limb is a left limb mirrored: same spot, x = 300 - x.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from plytide.data import table
from plytide.limb.geometry import SIDES, TYPICAL, Size, View, shape

VIEWS: tuple[View, ...] = ("front", "inner", "back", "outer", "end")
FACING: dict[str, int] = {"front": 0, "outer": 90, "back": 180, "inner": 270}
SLOP = 14.0  # view units that a fingertip may miss the outline by
EDGE_ON = 0.92  # beyond this part of the half width a view is too oblique to trust: turn the limb
END_SHARE = 0.35  # below this part of the end's height a spot is best seen from the end
NEAR_MM = 1e-3  # rounding to allow at the outline
_TOWARDS = {"front": 1, "back": -1, "outer": -1, "inner": 1, "end": 1}  # a left limb's outer (or front) to the right


class Hit(NamedTuple):
    """A tap that met the limb. `oblique`: so near the outline that a neighbouring view (`turn`) shows it better."""

    height: float
    angle: float
    end_cap: bool  # also to be seen on the end view
    above_edge: bool  # above the usual socket edge
    oblique: bool
    turn: View


class Frame:
    """How one limb is placed in the pictures. Get it from `frame`, which keeps it."""

    def __init__(self, level: str, side: str, size: Size = TYPICAL) -> None:
        self.view: dict[str, float] = table("limb")["view"]
        self.level, self.side, self.size = level, side, size
        self.limb = limb = shape(level, size)
        self.flip = 1 if side == "left" else -1
        front, outer, back, inner = (max(limb.radii(u)[k] for u in limb.heights) for k in range(4))
        self.mid_x, self.mid_y = (outer - inner) / 2, (front - back) / 2
        self.scale = min(
            self.view["draw_height"] / limb.z_of_u(limb.top),
            self.view["draw_width"] / max(outer + inner, front + back),
        )
        front, outer, back, inner = limb.radii(limb.end)
        self.end_mid_x, self.end_mid_y = (outer - inner) / 2, (front - back) / 2
        self.end_scale = self.view["end_size"] / max(outer + inner, front + back)

    def sign(self, view: View) -> int:
        """+1 when outer (front, back and end view) or front (inner and outer view) lies to the right."""
        return _TOWARDS[view] * self.flip

    def project(self, view: View, u: float, angle: float) -> tuple[float, float]:
        """Where a point of the surface falls in a view, whether or not it faces that way."""
        v, turn = self.view, math.radians(angle)
        if view == "end":
            rho = self.limb.radius(self.limb.end, angle) * math.sqrt(max(u, 0.0) / self.limb.end)
            return (
                v["end_cx"] + self.sign(view) * self.end_scale * (rho * math.sin(turn) - self.end_mid_x),
                v["end_cy"] - self.end_scale * (rho * math.cos(turn) - self.end_mid_y),
            )
        x, y, z = self.limb.point(u, angle)
        q = x - self.mid_x if view in ("front", "back") else y - self.mid_y
        return v["width"] / 2 + self.sign(view) * self.scale * q, v["tip_y"] - self.scale * z

    def to_view(self, view: View, height: float, angle: float) -> tuple[float, float] | None:
        """Where a spot is in a view, or None where the view does not show it."""
        u = height * self.limb.brim
        if view == "end":
            return self.project(view, u, angle) if u <= self.limb.end else None
        if math.cos(math.radians(angle - FACING[view])) < -1e-12:
            return None
        return self.project(view, u, angle)

    def from_view(self, view: View, x: float, y: float, slop: float = 0.0) -> Hit | None:
        """The spot under a tap, or None off the limb. With `slop` a tap that just misses snaps to the outline."""
        return self._from_end(x, y, slop) if view == "end" else self._from_side(view, x, y, slop)

    def _from_end(self, x: float, y: float, slop: float) -> Hit | None:
        out = self.sign("end") * (x - self.view["end_cx"]) / self.end_scale + self.end_mid_x
        fore = (self.view["end_cy"] - y) / self.end_scale + self.end_mid_y
        angle = math.degrees(math.atan2(out, fore)) % 360
        rim, reach = self.limb.radius(self.limb.end, angle), math.hypot(out, fore)
        if reach > rim + slop / self.end_scale + NEAR_MM:
            return None
        share = min(1.0, reach / rim)
        return self._hit(share**2 * self.limb.end, angle, share > EDGE_ON, side_view(angle))

    def _from_side(self, view: View, x: float, y: float, slop: float) -> Hit | None:
        limb, side_on = self.limb, view in ("inner", "outer")
        z, miss = (self.view["tip_y"] - y) / self.scale, slop / self.scale
        if not -miss - NEAR_MM <= z <= limb.z_of_u(limb.brim) + miss + NEAR_MM:
            return None
        q = self.sign(view) * (x - self.view["width"] / 2) / self.scale + (self.mid_y if side_on else self.mid_x)
        for k in range(9 if slop else 1):  # beyond the first only for a tap just below the rounded end
            u = min(max(limb.u_of_z(z + miss * k / 8), 0.0), limb.brim)
            towards, edge = self.half_width(view, u, q)
            if abs(q) <= edge + miss * math.sqrt(1 - (k / 8) ** 2) + NEAR_MM:
                break
        else:
            return None
        if edge <= 0:
            return self._hit(0.0, 0.0, True, "end")
        share = min(1.0, abs(q) / edge)
        angle = self.turned(view, u, math.copysign(share, q))[0]
        return self._hit(u, angle, share > EDGE_ON, "end" if u < END_SHARE * limb.end else towards)

    def half_width(self, view: View, u: float, q: float) -> tuple[View, float]:
        """Which way the half of a side view lies that `q` (mm from the axis) is in, and how wide it is at `u`."""
        front, outer, back, inner = self.limb.radii(u)
        if view in ("inner", "outer"):
            return ("front", front) if q >= 0 else ("back", back)
        return ("outer", outer) if q >= 0 else ("inner", inner)

    def turned(self, view: View, u: float, share: float) -> tuple[float, float]:
        """(angle, depth towards the eye in mm) at `share` (-1 to 1) of the half width of a side view."""
        side_on = view in ("inner", "outer")
        n = self.limb.square(u, share >= 0 if side_on else view == "front")
        depth = max(0.0, 1 - abs(share) ** n) ** (1 / n) * self.limb.radii(u)[SIDES.index(view)]
        away = depth if view in ("front", "outer") else -depth
        q = share * self.half_width(view, u, share)[1]
        return math.degrees(math.atan2(away, q) if side_on else math.atan2(q, away)) % 360, depth

    def _hit(self, u: float, angle: float, oblique: bool, turn: View) -> Hit:
        return Hit(u / self.limb.brim, angle, u <= self.limb.end, u > self.limb.edge(angle), oblique, turn)

    def best_view(self, height: float, angle: float) -> View:
        """The view that shows a stored spot most squarely."""
        return "end" if height * self.limb.brim < END_SHARE * self.limb.end else side_view(angle)


def side_view(angle: float) -> View:
    """The side view whose quarter the angle lies in."""
    return SIDES[int(((angle + 45) % 360) // 90)]


@lru_cache(maxsize=128)
def frame(level: str, side: str, size: Size = TYPICAL) -> Frame:
    """The pictures of one limb; made once and kept."""
    return Frame(level, side, size)
