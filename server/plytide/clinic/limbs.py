"""The five views of a limb with what was logged: sore spots by their number in the table, heat as a halftone."""

from __future__ import annotations

from dataclasses import dataclass, field

from markupsafe import Markup

from plytide.clinic.reading import Reading
from plytide.clinic.words import count, t
from plytide.insight.shape import LimbSummary
from plytide.limb.draw import drawing
from plytide.limb.geometry import Size, View, size_of
from plytide.limb.overlay import Heat, Mark, hidden, picture, side_places
from plytide.limb.views import VIEWS, frame


@dataclass(frozen=True)
class Picture:
    """One view, its name, and which side of the limb is on the left and on the right of it."""

    name: str
    left: str
    right: str
    svg: Markup


@dataclass
class Ground:
    """The drawings under what was logged, each once on a page: a limb of the same form and size is its mirror image."""

    drawn: dict[tuple[str, Size, View], str] = field(default_factory=dict)  # whose drawing it is

    def of(self, level: str, side: str, view: View, size: Size) -> str:
        """The drawing of a view, or what shows the one that is on the page already."""
        first = self.drawn.setdefault((level, size, view), side)
        if first == side:
            # With the class of the whole picture, as browsers look no further than this for what colours a copy.
            return f'<g class="limb" id="{side}-{view}">{drawing(level, side, view, size)}</g>'
        width = frame(level, side, size).view["width"]
        return f'<use href="#{first}-{view}" transform="matrix(-1 0 0 1 {width:g} 0)"/>'


def pictures(reading: Reading, side: str, limb: LimbSummary, ground: Ground) -> list[Picture]:
    """All views of a limb; none where nothing sore was logged."""
    if not limb["spots"] and not limb["heat"]:
        return []
    profile = reading.limb_profile(side)
    level, size = profile["level"], size_of(profile)
    marks = [Mark(s["height"], s["angle"], str(i), s["state"] != "healed") for i, s in enumerate(limb["spots"], 1)]
    heat = [Heat(h["height"], h["angle"], h["value"]) for h in limb["heat"]]
    tender = [(p["height"], p["angle"]) for p in profile.get("tender") or []]
    drawn = []
    for view in VIEWS:
        shown = len(marks) - hidden(level, side, view, marks, size)
        label = t("spots.label", side=t(f"limb.{side}"), view=t(f"view.{view}"), spots=count(shown, "spot"))
        svg = picture(level, side, view, size, label=label, marks=marks, heat=heat, tender=tender, words={},
                      ground=ground.of(level, side, view, size))  # fmt: skip
        left, right = (t(f"side.{name}") for name, *_ in side_places(frame(level, side, size), view)[-2:])
        drawn.append(Picture(t(f"view.{view}"), left, right, Markup(svg)))
    return drawn
