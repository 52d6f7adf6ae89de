"""The shapes of the four levels of signs: corners and fill rise with the level, so that no colour is needed."""

from __future__ import annotations

from markupsafe import Markup

SHAPES = {
    "watch": '<circle cx="16" cy="16" r="12.5"/>',
    "review": '<rect x="4" y="4" width="24" height="24" rx="2.5"/>',
    "same_day": '<path d="M16 1.5 30.5 16 16 30.5 1.5 16Z"/>',
    "emergency": '<path d="M10 1.5h12l8.5 8.5v12L22 30.5H10L1.5 22V10Z"/>',
}
FILLED = {
    "watch": "M5 22A12.5 12.5 0 0 0 27 22Z",
    "review": "M4 16h24v9.5a2.5 2.5 0 0 1-2.5 2.5h-19a2.5 2.5 0 0 1-2.5-2.5Z",
    "same_day": "M6.5 11h19l5 5L16 30.5 1.5 16Z",
}


def glyph(level: str) -> Markup:
    """The sign shape of a level; the word stands beside it, so it says nothing itself."""
    if level == "emergency":
        inside = (f'<g class="gf">{SHAPES[level]}</g><path class="gb" d="M16 8v10"/>'
                  '<circle class="gd" cx="16" cy="24" r="2.6"/>')  # fmt: skip
    else:
        inside = f'<path class="gf" d="{FILLED[level]}"/><g class="gl">{SHAPES[level]}</g>'
    return Markup(f'<svg class="g" viewBox="0 0 32 32" aria-hidden="true">{inside}</svg>')
