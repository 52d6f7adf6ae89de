"""Makes limb_outlines.json: the lines of every limb drawing, for the page to agree with.

usage: python tests/vectors/make_outlines.py
"""

import json
from pathlib import Path

from plytide.limb.draw import drawing, outline
from plytide.limb.geometry import LEVELS
from plytide.limb.views import VIEWS, frame

FILE = Path(__file__).parent / "limb_outlines.json"
WHOLE = ("transtibial", "left", "outer")  # one drawing is kept whole


def rounded(line):
    """A line with its points to a hundredth of a unit; of its inner points every fifth."""
    kept = [p for i, p in enumerate(line) if i % 5 == 0 or i == len(line) - 1]
    return [[round(x, 2), round(y, 2)] for x, y in kept]


def outlines():
    """One object a drawing: the limb in its socket, the socket edge, the body going on above."""
    out = []
    for level in LEVELS:
        for side in ("left", "right"):
            for view in VIEWS:
                own, rim, far = outline(frame(level, side), view)
                lines = {"own": rounded(own), "rim": rounded(rim), "far": [rounded(line) for line in far]}
                out.append({"level": level, "side": side, "view": view, **lines})
    return {"outlines": out, "whole": {"of": WHOLE, "svg": drawing(*WHOLE)}}


if __name__ == "__main__":
    FILE.write_text(json.dumps(outlines(), separators=(",", ":")) + "\n")
