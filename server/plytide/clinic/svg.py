"""A sheet to draw a chart on: short SVG with classes from style.css, and no attribute that a strict policy refuses."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup, escape


def n(value: float) -> str:
    """A coordinate, to a tenth and no longer than it need be."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def line(points: Iterable[tuple[float, float] | None]) -> str:
    """Path data through points; a None lifts the pen, so that a gap stays a gap."""
    data, last = "", None
    for point in points:
        if point is None:
            last = None
            continue
        x, y = n(point[0]), n(point[1])
        if last is None:
            data += f"M{x} {y}"
        elif y == last[1]:
            data += f"H{x}" if x != last[0] else ""
        elif x == last[0]:
            data += f"V{y}"
        else:
            data += f"L{x} {y}"
        last = (x, y)
    return data


class Sheet:
    """Collects marks; `font` is the size of its text in the sheet's own units."""

    def __init__(self, width: float, font: float = 13) -> None:
        self.width, self.font = width, font
        self._marks: list[str] = []

    def path(self, kind: str, data: str, wide: float = 0) -> None:
        """`wide`: how thick the line is, where that hangs on the drawing and not on the style."""
        if data:
            thick = f' stroke-width="{n(wide)}"' if wide else ""
            self._marks.append(f'<path class="{kind}"{thick} d="{data}"/>')

    def rect(self, kind: str, x: float, y: float, width: float, height: float, round_: float = 0) -> None:
        corner = f' rx="{n(round_)}"' if round_ else ""
        self._marks.append(
            f'<rect class="{kind}" x="{n(x)}" y="{n(y)}" width="{n(width)}" height="{n(height)}"{corner}/>'
        )

    def dot(self, kind: str, x: float, y: float, radius: float) -> None:
        self._marks.append(f'<circle class="{kind}" cx="{n(x)}" cy="{n(y)}" r="{n(radius)}"/>')

    def text(self, x: float, y: float, words: str, kind: str = "", anchor: str = "", strong: str = "") -> None:
        """Words with their middle at `y`; `strong` stands before them in ink."""
        look = (f' class="{kind}"' if kind else "") + (f' text-anchor="{anchor}"' if anchor else "")
        bold = f'<tspan class="k">{escape(strong)}</tspan>' if strong else ""
        self._marks.append(f'<text{look} x="{n(x)}" y="{n(y + self.font * 0.35)}">{bold}{escape(words)}</text>')

    def room(self, words: str) -> float:
        """About how wide words are; enough to keep labels apart."""
        return len(words) * self.font * 0.54

    def svg(self, height: float, label: str, kind: str = "") -> Markup:
        """The picture; it grows with the page, and says `label` to whoever cannot see it."""
        return Markup(
            f'<svg class="ch {kind}" viewBox="0 0 {n(self.width)} {n(height)}" font-size="{n(self.font)}" '
            f'role="img" aria-label="{escape(label)}">{"".join(self._marks)}</svg>'
        )
