"""The five views of a limb with what was logged: sore spots by their number in the table, heat as a halftone."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from plytide.clinic.reading import Reading
from plytide.clinic.words import count, t
from plytide.insight.shape import LimbSummary
from plytide.limb.geometry import size_of
from plytide.limb.overlay import Heat, Mark, hidden, picture, side_places
from plytide.limb.views import VIEWS, frame


@dataclass(frozen=True)
class Picture:
    """One view, its name, and which side of the limb is on the left and on the right of it."""

    name: str
    left: str
    right: str
    svg: Markup


def pictures(reading: Reading, side: str, limb: LimbSummary) -> list[Picture]:
    """All views of a limb; none where nothing sore was logged."""
    if not limb["spots"] and not limb["heat"]:
        return []
    profile = reading.limb_profile(side)
    level, size = profile["level"], size_of(profile)
    marks = [Mark(s["height"], s["angle"], str(i), s["state"] != "healed") for i, s in enumerate(limb["spots"], 1)]
    heat = [Heat(h["height"], h["angle"], h["value"]) for h in limb["heat"]]
    tender = [(p["height"], p["angle"]) for p in profile.get("tender") or []]
    sides = {name: t(f"side.{name}") for name in ("front", "outer", "back", "inner")}
    drawn = []
    for view in VIEWS:
        shown = len(marks) - hidden(level, side, view, marks, size)
        label = t("spots.label", side=t(f"limb.{side}"), view=t(f"view.{view}"), spots=count(shown, "spot"))
        svg = picture(level, side, view, size, label=label, marks=marks, heat=heat, tender=tender, words=sides)
        left, right = (t(f"side.{name}") for name, *_ in side_places(frame(level, side, size), view)[-2:])
        drawn.append(Picture(t(f"view.{view}"), left, right, Markup(svg)))
    return drawn
