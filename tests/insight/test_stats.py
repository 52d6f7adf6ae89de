"""The toolbox against published examples (oracles.json names each source) and against the libraries, to 1e-9.

Of those examples four do not apply: nothing here fits a least-squares line (strd-norris, strd-noint1), pairs samples
(hw-3.1-paired) or makes conformal intervals (conformal).
"""

import json
import math
import warnings
from pathlib import Path
from random import Random

import pymannkendall
import pytest
import scipy.stats
import statsmodels.stats.proportion
from plytide.insight import stats

ORACLES = {one["id"]: one for one in json.loads((Path(__file__).parent / "oracles.json").read_text(encoding="utf-8"))}
EXACT = 1e-9


def case(name):
    return ORACLES[name]["input"], ORACLES[name]["expected"]


def test_ewma_gives_the_table_of_the_nist_handbook_to_its_printed_digits():
    given, expected = case("nist-ewma")  # NIST/SEMATECH e-Handbook 6.3.2.4
    z = stats.ewma(given["x"], given["lam"], given["z0"])
    assert [round(value, 2) for value in z] == pytest.approx(expected["z"], abs=0.005)
    half = given["L"] * given["s"] * math.sqrt(given["lam"] / (2 - given["lam"]))
    assert (50 + half, 50 - half) == pytest.approx((expected["ucl"], expected["lcl"]), abs=1e-4)
    assert [i for i, value in enumerate(z) if abs(value - 50) > half] == expected["out_of_control"]


def test_cusum_gives_the_table_of_the_nist_handbook_to_its_printed_digits():
    given, expected = case("nist-cusum")  # NIST/SEMATECH e-Handbook 6.3.2.3
    high, low = stats.cusum(given["x"], given["target"], given["k"])
    assert high == pytest.approx(expected["s_hi"], abs=0.005000001)
    assert low == pytest.approx(expected["s_lo"], abs=0.005000001)
    assert next(i for i, value in enumerate(high, 1) if value > given["h"]) == expected["first_signal_group"]


def test_quantile_is_definition_seven_of_the_nist_handbook():
    given, expected = case("nist-p90")  # NIST/SEMATECH e-Handbook 7.2.6.2
    assert stats.quantile(sorted(given["x"]), given["p"]) == pytest.approx(expected["R7"], abs=5e-5)


def test_theil_sen_gives_sens_own_example_and_interval():
    given, expected = case("sen-1968")  # Sen 1968, JASA 63:1379
    line = stats.theil_sen(given["x"], given["y"], given["conf"])
    wanted = (expected["slope"], expected["intercept_joint"], expected["lo"], expected["hi"])
    assert line == pytest.approx(wanted, abs=1e-12)


def test_theil_sen_gives_gilberts_slope_and_number_of_pairs_with_ties_in_time():
    given, expected = case("gilbert-16.3")  # Gilbert 1987, example 16.3 and 16.5
    assert len(stats.pair_slopes(given["x"], given["y"])) == expected["n_slopes"]
    line = stats.theil_sen(given["x"], given["y"], 0.9)
    assert line.slope == expected["sen"]
    assert [line.low, line.high] == pytest.approx(expected["ci90_scipy"], abs=1e-12)


def test_theil_sen_resists_the_one_wild_point_of_helsel_and_hirsch():
    given, expected = case("hh-10.1")  # Helsel & Hirsch, TWRI 4-A3, chapter 10
    assert stats.theil_sen(given["x"], given["y"]).slope == expected["slope"]
    test = stats.kendall(given["x"], given["y"])
    assert (test.statistic, test.two_sided) == pytest.approx((expected["S"], expected["p_exact"]), abs=EXACT)
    assert stats.kendall_variance(given["x"], given["y"]) == pytest.approx(expected["var"], abs=EXACT)


@pytest.mark.parametrize("name", ["hw-9.1", "epa-g9-mk"])
def test_kendall_has_the_exact_small_sample_law(name):
    given, expected = case(name)  # Hollander, Wolfe & Chicken example 9.1; EPA QA/G-9
    test = stats.kendall(given.get("x", list(range(len(given["y"])))), given["y"])
    assert test.exact
    assert test.statistic == expected["S"]
    if "slope" in expected:
        assert stats.theil_sen(given["x"], given["y"]).slope == pytest.approx(expected["slope"], abs=EXACT)
        assert test.two_sided == pytest.approx(expected["p_two_sided_exact"], abs=EXACT)
    else:
        assert test.greater == pytest.approx(expected["p_one_sided_exact"], abs=EXACT)


@pytest.mark.parametrize("name", ["gilbert-16.3", "gilbert-p211-ties", "vbh-p129-ties", "vbh-p136-ties"])
def test_kendalls_variance_with_ties(name):
    given, expected = case(name)  # Gilbert 1987 p. 211, Van Belle & Hughes 1984 p. 129, p. 136
    x = given.get("x", list(range(len(given["y"]))))
    assert stats.kendall_variance(x, given["y"]) == pytest.approx(expected["var"], abs=EXACT)
    if "S" in expected:
        assert stats.kendall_s(x, given["y"]) == expected["S"]


def test_kendalls_variance_with_several_values_a_time():
    given, expected = case("gilbert-17.1")  # Gilbert 1987, example 17.1
    for site in ("site1", "site2"):
        t, y = given[site]["t"], given[site]["y"]
        assert stats.kendall_s(t, y) == expected[site]["S"]
        assert stats.kendall_variance(t, y) == pytest.approx(expected[site]["var"], abs=0.001)


def test_mann_whitney_and_hodges_lehmann_give_hollander_and_wolfes_example():
    given, expected = case("hw-4.1")  # Hollander & Wolfe, example 4.1; R's wilcox.test
    test = stats.mann_whitney(given["y"], given["x"])
    assert (test.statistic, test.greater, test.two_sided) == pytest.approx(
        (expected["W"], expected["p_greater"], expected["p_two"]), abs=EXACT
    )
    moved = stats.hodges_lehmann(given["x"], given["y"])
    assert moved.shift == pytest.approx(expected["shift_y_minus_x"], abs=EXACT)
    assert (moved.low, moved.high) == pytest.approx(tuple(expected["ci95"]), abs=EXACT)
    assert moved.confidence == pytest.approx(expected["achieved"], abs=EXACT)
    narrow = stats.hodges_lehmann(given["x"], given["y"], 0.9)
    assert (narrow.low, narrow.high) == pytest.approx(tuple(expected["ci90"]), abs=EXACT)


@pytest.mark.parametrize("name", ["fisher-tea", "fisher-convictions"])
def test_fishers_exact_test_gives_his_examples(name):
    given, expected = case(name)  # Agresti and Fisher, by R's fisher.test
    (a, b), (c, d) = given["table"]
    test = stats.fisher(a, b, c, d)
    assert test.two_sided == pytest.approx(expected["p_two"], rel=1e-6)
    if "p_greater" in expected:
        assert test.greater == pytest.approx(expected["p_greater"], rel=1e-6)
    else:
        assert stats.fisher(b, a, d, c).greater == pytest.approx(expected["p_less"], rel=1e-6)


def test_relative_risk_with_its_interval():
    given, expected = case("rr-scipy")  # scipy.stats.contingency.relative_risk, its documented example
    numbers = (given["exposed_cases"], given["exposed_total"], given["control_cases"], given["control_total"])
    assert stats.relative_risk(*numbers) == pytest.approx((expected["rr"], *expected["ci95"]), rel=1e-12)
    given, expected = case("rr-sock-example")  # computed with scipy and statsmodels
    (a, b), (c, d) = given["table"]
    assert stats.relative_risk(a, a + b, c, c + d) == pytest.approx((expected["rr"], *expected["rr_ci95"]), rel=1e-12)
    wanted = (expected["fisher_two"], expected["fisher_greater"])
    assert stats.fisher(a, b, c, d)[1:3] == pytest.approx(wanted, rel=1e-12)
    assert stats.wilson(7, 12) == pytest.approx(tuple(expected["wilson_7_12"]), rel=1e-12)
    assert stats.wilson(4, 18) == pytest.approx(tuple(expected["wilson_4_18"]), rel=1e-12)
    assert stats.relative_risk(0, 5, 2, 5) is None


def test_circular_shift_counts_every_turn_of_the_days():
    given, expected = case("circular-shift")  # by enumeration
    assert stats.circular_shift(given["x"], given["y"]) == (expected["observed"], expected["p"])
    both = sum(a and b for a, b in zip(given["x"], given["y"], strict=True))
    ones, others = sum(given["x"]), sum(given["y"])
    table = (both, ones - both, others - both, len(given["x"]) - ones - others + both)
    assert stats.fisher(*table).greater == pytest.approx(expected["fisher_greater"], rel=1e-9)


def samples(seed, ties):
    r = Random(seed)
    n, m = r.randint(2, 45), r.randint(2, 45)
    draw = (lambda: r.randint(0, 9)) if ties else r.random
    return [draw() for _ in range(n)], [draw() for _ in range(m)]


@pytest.mark.parametrize("seed", range(40))
def test_kendall_agrees_with_scipy_where_exact_and_with_pymannkendall_beyond(seed):
    y = samples(seed, ties=seed % 2 == 0)[0]
    if len(set(y)) < 2:
        y = [*y, 77]
    days = list(range(len(y)))
    ours = stats.kendall(days, y)
    if ours.exact:
        assert ours.two_sided == pytest.approx(scipy.stats.kendalltau(days, y, method="exact").pvalue, abs=EXACT)
    else:
        theirs = pymannkendall.original_test(y)
        assert ours.statistic == theirs.s
        assert stats.kendall_variance(days, y) == pytest.approx(theirs.var_s, abs=1e-6)
        assert ours.two_sided == pytest.approx(theirs.p, abs=EXACT)


@pytest.mark.parametrize("seed", range(40))
def test_mann_whitney_agrees_with_scipy(seed):
    x, y = samples(seed, ties=seed % 2 == 0)
    ours = stats.mann_whitney(x, y)
    method = "exact" if ours.exact else "asymptotic"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # scipy divides by zero where every value is the same
        two = scipy.stats.mannwhitneyu(y, x, method=method).pvalue
        greater = scipy.stats.mannwhitneyu(y, x, method=method, alternative="greater").pvalue
    if len({*x, *y}) > 1:
        assert (ours.two_sided, ours.greater) == pytest.approx((two, greater), abs=EXACT)


@pytest.mark.parametrize("seed", range(40))
def test_theil_sen_agrees_with_scipy(seed):
    y = samples(seed, ties=seed % 2 == 0)[0]
    x = sorted(Random(seed).sample(range(100), len(y)))
    theirs = scipy.stats.theilslopes(y, x, 0.9, method="joint")
    ours = stats.theil_sen(x, y, 0.9)
    assert ours == pytest.approx((theirs.slope, theirs.intercept, theirs.low_slope, theirs.high_slope), abs=EXACT)


@pytest.mark.parametrize("seed", range(20))
def test_fisher_wilson_and_median_agree_with_the_libraries(seed):
    r = Random(seed)
    a, b, c, d = (r.randint(0, 20) for _ in range(4))
    two = scipy.stats.fisher_exact([[a, b], [c, d]]).pvalue
    assert stats.fisher(a, b, c, d).two_sided == pytest.approx(two, abs=EXACT)
    greater = scipy.stats.fisher_exact([[a, b], [c, d]], alternative="greater").pvalue
    assert stats.fisher(a, b, c, d).greater == pytest.approx(greater, abs=EXACT)
    n = r.randint(1, 60)
    k = r.randint(0, n)
    theirs = statsmodels.stats.proportion.proportion_confint(k, n, 0.05, "wilson")
    assert stats.wilson(k, n) == pytest.approx(theirs, abs=EXACT)
    p = r.random()
    assert stats.normal_quantile(p) == pytest.approx(scipy.stats.norm.ppf(p), abs=EXACT)
    assert stats.normal_sf(3 * p) == pytest.approx(scipy.stats.norm.sf(3 * p), abs=EXACT)


def test_the_rank_law_counts_every_mix_of_ranks():
    for m, n in ((1, 1), (3, 4), (7, 5), (30, 30)):
        law = stats.rank_law(m, n)
        assert sum(law) == math.comb(m + n, m)
        assert law == law[::-1]


def test_hodges_lehmann_holds_its_confidence_beyond_the_exact_law():
    r = Random(11)
    held = 0
    for _ in range(200):
        before, after = [r.gauss(0, 1) for _ in range(34)], [r.gauss(1, 1) for _ in range(40)]
        moved = stats.hodges_lehmann(before, after)
        held += moved.low <= 1 <= moved.high
    assert 180 <= held <= 199


def test_the_neighbours_correlation_is_that_of_statsmodels():
    from statsmodels.tsa.stattools import acf

    values = [Random(4).gauss(0, 1) for _ in range(60)]
    mean = sum(values) / len(values)
    assert stats.lag1([value - mean for value in values]) == pytest.approx(acf(values, nlags=1)[1], abs=EXACT)
    assert stats.lag1([0.0, 0.0]) == 0.0
