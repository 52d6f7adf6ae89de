"""The 360 worked points of tests/vectors/limb.json, made by another implementation, both ways."""

import json
from pathlib import Path

import pytest
from plytide.limb.geometry import LEVELS, region_name, regions_at
from plytide.limb.views import VIEWS, frame

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "limb.json").read_text())


def ident(vector):
    return "{level}-{side}-{view}-{height}".format(**vector)


def test_the_vectors_cover_every_level_side_and_view():
    seen = {(v["level"], v["side"], v["view"]) for v in VECTORS}
    assert len(VECTORS) == 360
    assert seen == {(level, side, view) for level in LEVELS for side in ("left", "right") for view in VIEWS}


@pytest.mark.parametrize("v", [v for v in VECTORS if v["height"] is not None and v["x"] is not None], ids=ident)
def test_a_spot_and_its_point_agree_both_ways(v):
    pictures = frame(v["level"], v["side"])
    assert pictures.to_view(v["view"], v["height"], v["angle"]) == pytest.approx((v["x"], v["y"]), abs=1e-3)
    hit = pictures.from_view(v["view"], v["x"], v["y"])
    assert hit.height == pytest.approx(v["height"], abs=1e-3)
    assert (hit.angle - v["angle"] + 180) % 360 - 180 == pytest.approx(0, abs=0.02)  # x, y have 4 decimals
    assert (hit.end_cap, hit.above_edge) == (v["end_cap"], v["above_edge"])
    regions = regions_at(v["level"], v["height"], v["angle"])
    assert (regions[0]["id"] if regions else None) == v["region"]
    assert region_name(v["level"], v["height"], v["angle"])[0] == (v["region"] or region_name_by_hand(v))


def region_name_by_hand(v):
    quarter = ["front", "outer", "back", "inner"][round(v["angle"] / 90) % 4]
    return f"{quarter}_{['lower', 'middle', 'upper'][min(2, int(v['height'] * 3))]}"


@pytest.mark.parametrize("v", [v for v in VECTORS if v["height"] is not None and v["x"] is None], ids=ident)
def test_a_spot_that_faces_away_is_not_shown(v):
    assert frame(v["level"], v["side"]).to_view(v["view"], v["height"], v["angle"]) is None


@pytest.mark.parametrize("v", [v for v in VECTORS if v["height"] is None], ids=ident)
def test_a_tap_off_the_limb_is_no_spot(v):
    assert frame(v["level"], v["side"]).from_view(v["view"], v["x"], v["y"]) is None
