"""Clusters and heat on the limb's surface, against scikit-learn and a worked example."""

import json
import math
import random
from pathlib import Path

import numpy as np
import pytest
from plytide.insight.cluster import cluster
from plytide.insight.surface import SAME_PLACE_MM, Surface, heat_at, middle
from sklearn.cluster import DBSCAN

ORACLE = next(o for o in json.loads((Path(__file__).parent / "oracles.json").read_text()) if o["id"] == "sores")
GEO = ORACLE["input"]["geometry"]


def on_a_rounded_cone(height, angle, arc):
    """The example's own limb: a tapered cylinder on half a ball; `arc` is the way from the tip to the ball's edge."""
    turn = math.radians(angle)
    if height is not None:
        r = GEO["r_end"] + (GEO["r_top"] - GEO["r_end"]) * height
        return r * math.sin(turn), r * math.cos(turn), GEO["r_end"] + height * GEO["length"]
    tilt = arc * math.pi / 2
    r = GEO["r_end"] * math.sin(tilt)
    return r * math.sin(turn), r * math.cos(turn), GEO["r_end"] * (1 - math.cos(tilt))


POINTS = tuple(on_a_rounded_cone(h, a, arc) for h, a, arc, _ in ORACLE["input"]["marks"])


def test_the_worked_example_finds_the_spot_across_the_front_and_the_one_on_the_end():
    # scikit-learn 1.9.1 DBSCAN(precomputed), worked example "sores".
    assert list(cluster(POINTS, ORACLE["input"]["eps"], ORACLE["input"]["min_samples"])) == ORACLE["expected"]["labels"]


def test_the_heat_of_the_worked_example_agrees_to_five_decimals():
    # scikit-learn 1.9.1 KernelDensity, worked example "sores".
    marks = [(point, mark[3]) for point, mark in zip(POINTS, ORACLE["input"]["marks"], strict=True)]
    for name, value in ORACLE["expected"]["heat"].items():
        if name == "pole":
            at = on_a_rounded_cone(None, 0, 0.0)
        else:
            height, angle = name.removeprefix("h=").split("@")
            at = on_a_rounded_cone(float(height), float(angle), None)
        assert heat_at(at, marks, ORACLE["input"]["sigma"]) == pytest.approx(value, abs=ORACLE["tol"]["heat"])


def test_the_mean_direction_of_marks_either_side_of_the_front_is_the_front():
    # Circular mean of the example's first cluster: 0.24819402557664658 degrees.
    marks = ORACLE["input"]["marks"][:4]
    height, angle = middle([(h, a) for h, a, _, _ in marks], POINTS[:4])
    assert angle == round(ORACLE["expected"]["circmean_cluster0"], 1)
    assert height == pytest.approx(np.mean([m[0] for m in marks]), abs=1e-4)


def test_marks_all_round_the_tip_are_placed_at_one_of_them():
    surface = Surface(None)
    places = [(0.02, 0.0), (0.01, 90.0), (0.02, 180.0), (0.02, 270.0)]
    assert middle(places, [surface.point(*p) for p in places]) == (0.01, 90.0)


@pytest.mark.parametrize("seed", range(20))
def test_random_marks_on_each_kind_of_limb_cluster_as_scikit_learn_has_it(seed):
    rng = random.Random(seed)
    level = ("transtibial", "transfemoral", "knee_disarticulation")[seed % 3]
    surface = Surface({"level": level, "side": "left"})
    centres = [(rng.uniform(0, 1), rng.uniform(0, 360)) for _ in range(4)]
    points = []
    for _ in range(rng.randint(5, 90)):
        height, angle = rng.choice(centres)
        height = min(1, max(0, rng.gauss(height, 0.06)))
        points.append(surface.point(height, rng.gauss(angle, 15) % 360))
    expected = DBSCAN(eps=20, min_samples=3).fit_predict(np.array(points))
    assert list(cluster(tuple(points), SAME_PLACE_MM, 3)) == list(expected)


@pytest.mark.parametrize("seed", range(30))
def test_crowds_lines_and_repeats_cluster_as_scikit_learn_has_them(seed):
    rng = random.Random(seed)
    reach, least = rng.choice([5.0, 20.0]), rng.choice([1, 3, 3, 5])
    middles = [[rng.uniform(-60, 60) for _ in range(3)] for _ in range(rng.randint(1, 5))]
    points = [tuple(rng.gauss(a, rng.choice([2, 12])) for a in rng.choice(middles)) for _ in range(rng.randint(1, 120))]
    points += [rng.choice(points) for _ in range(10)]
    points += [(float(n) * reach, 0.0, 0.0) for n in range(-3, 4)]  # just within reach of each other
    expected = DBSCAN(eps=reach, min_samples=least).fit_predict(np.array(points))
    assert list(cluster(tuple(points), reach, least)) == list(expected)
