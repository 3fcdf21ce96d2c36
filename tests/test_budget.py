"""Error budgets: sums, shares, use of the tolerance, capability, chance and the table of typical spreads.

Closed forms (the normal law, Irwin-Hall, the triangle) check the draws, within four binomial standard errors.
"""

import math
from fractions import Fraction

import numpy as np
import pytest

from latheworks.budget import Contribution, error_budget, error_source, error_source_note, error_sources, kernel
from latheworks.units import Q_, Span, U

DEFLECTION = Contribution("deflection", Q_(0.012, "mm"), Q_(0.004, "mm"))
DIAL = Contribution("re-zeroing", spread=Q_(0.01, "mm"), kind="uniform", on="radius")
MICROMETER = Contribution("instrument", spread=Q_(0.004, "mm"), kind="triangular")
LIMITS = Span(Q_(31.95, "mm"), Q_(32.0, "mm"))
BUDGET = error_budget([DEFLECTION, DIAL, MICROMETER], LIMITS)


def one(kind="normal", spread=0.01, shift=0.0):
    return Contribution(kind, Q_(shift, "mm"), Q_(spread, "mm"), kind)


def errors_apart(got, chance, samples):
    """How many binomial standard errors a found chance lies from the true one."""
    return abs(got - chance) / math.sqrt(chance * (1 - chance) / samples)


def irwin_hall(x, n):
    """The chance that n uniform numbers from 0 to 1 sum to x at most, in exact fractions."""
    x = Fraction(x)
    terms = ((-1) ** k * math.comb(n, k) * (x - k) ** n for k in range(math.floor(x) + 1))
    return float(sum(terms) / math.factorial(n))


# Sums


def test_each_cause_counts_with_its_own_divisor_and_factor():
    each = [0.004, 2 * 0.01 / math.sqrt(3), 0.004 / math.sqrt(6)]
    assert BUDGET.standard_deviation.m_as("mm") == pytest.approx(math.sqrt(sum(s * s for s in each)))
    assert BUDGET.shift.m_as("mm") == pytest.approx(0.012)
    assert BUDGET.mean.m_as("mm") == pytest.approx(31.987)
    assert BUDGET.worst.width.m_as("mm") / 2 == pytest.approx(3 * 0.004 + 2 * 0.01 + 0.004)
    assert BUDGET.likely.mid.m_as("mm") == pytest.approx(31.987)


def test_shares_sum_to_one_and_name_the_largest():
    assert BUDGET.spread_shares.sum() == pytest.approx(1)
    assert BUDGET.worst_shares.sum() == pytest.approx(1)
    assert BUDGET.spread_shares[1] == pytest.approx(4e-4 / 3 / BUDGET.standard_deviation.m_as("mm") ** 2)
    assert BUDGET.worst_shares.tolist() == pytest.approx([0.024 / 0.048, 0.02 / 0.048, 0.004 / 0.048])
    assert "re-zeroing, 8" in str(BUDGET)


def test_a_radius_counts_twice():
    on_diameter = error_budget(one(shift=0.01), LIMITS)
    on_radius = error_budget(Contribution("x", Q_(0.01, "mm"), Q_(0.01, "mm"), on="radius"), LIMITS)
    for name in ("shift", "standard_deviation"):
        assert getattr(on_radius, name).m_as("mm") == pytest.approx(2 * getattr(on_diameter, name).m_as("mm"))


def test_squares_never_exceed_the_worst_case():
    generator = np.random.default_rng(3)
    for _ in range(50):
        spreads = generator.uniform(0, 0.05, 5)
        kinds = generator.choice(["normal", "uniform", "triangular"], 5)
        items = [Contribution(str(i), spread=Q_(s, "mm"), kind=str(k)) for i, (s, k) in
                 enumerate(zip(spreads, kinds, strict=True))]  # fmt: skip
        found = error_budget(items, Q_(1, "mm"), coverage=1, samples=1000)
        assert found.likely.width < found.worst.width


def test_use_is_of_the_room_on_the_side_used_most():
    found = error_budget(one("uniform", 0.01, shift=-0.005), Span(Q_(9.9, "mm"), Q_(10.1, "mm")), aim=Q_(9.92, "mm"))
    assert found.worst_use == pytest.approx(0.015 / 0.02)
    assert found.likely_use == pytest.approx((0.005 + 2 * 0.01 / math.sqrt(3)) / 0.02)


def test_capability_of_two_limits_and_of_one():
    found = error_budget(one(shift=0.01), Q_(0.1, "mm"))
    assert (found.cp, found.cpk) == (pytest.approx(0.1 / 0.06), pytest.approx(0.04 / 0.03))
    single = error_budget(one(), Span(None, Q_(10.03, "mm")), aim=Q_(10, "mm"))
    assert (single.cp, single.cpk) == (None, pytest.approx(1))


def test_fixed_biases_have_no_spread_and_no_chance():
    found = error_budget([one("fixed", 0, 0.01), one("uniform", 0, 0.015)], Q_(0.05, "mm"))
    assert (found.cp, found.cpk, found.chance, found.chance_half_width) == (None, None, 1, 0)
    assert found.normal_chance == 1
    assert found.spread_shares.tolist() == [0, 0]
    lost = error_budget(one("fixed", 0, 0.03), Q_(0.05, "mm"))
    assert (lost.chance, lost.chance_large, lost.normal_chance) == (0, 1, 0)


@pytest.mark.parametrize(("spread", "shift", "word"), [(0.005, 0, "the worst case"), (0.01, 0, "check every"),
                                                       (0.02, 0, "shrink"), (0.001, 0.03, "known shift")])  # fmt: skip
def test_the_verdict(spread, shift, word):
    assert word in error_budget(one(spread=spread, shift=shift), Q_(0.05, "mm")).verdict


def test_inches_stay_inches():
    wear = Contribution("tool wear", spread=Q_(0.5, "thou"), kind="uniform", on="radius")
    found = error_budget(wear, Span(Q_(1.2500, "in"), Q_(1.2520, "in")))
    assert found.worst.max.units == U.inch
    assert found.worst.max.m_as("in") == pytest.approx(1.252)
    assert found.worst_use == pytest.approx(1)
    assert found.chance == 1
    assert "1.25200 in" in str(found)
    assert " mm" not in str(found)


# The chance


@pytest.mark.parametrize("z", [0.5, 1.0, 2.0, 3.0])
def test_a_normal_size_lies_within_as_the_normal_law_says(z):
    found = error_budget(one(), Q_(0.02 * z, "mm"))
    law = math.erf(z / math.sqrt(2))
    assert found.normal_chance == pytest.approx(law, abs=1e-6)
    assert errors_apart(found.chance, law, found.samples) < 4
    assert abs(found.chance - law) < 2 * found.chance_half_width


@pytest.mark.parametrize("n", [1, 2, 3, 5])
@pytest.mark.parametrize("share", [Fraction(1, 4), Fraction(2, 3), Fraction(9, 10)])
def test_uniform_sums_follow_irwin_and_hall(n, share):
    items = [Contribution(str(i), spread=Q_(0.01, "mm"), kind="uniform") for i in range(n)]
    limit = Q_(0.01 * n * float(2 * share - 1), "mm")
    aim = min(limit, Q_(0.0, "mm")) - Q_(1, "mm")
    moved = Contribution("move", Q_(0.0, "mm") - aim, kind="fixed")
    found = error_budget([*items, moved], Span(None, limit), aim=aim)
    assert errors_apart(found.chance, irwin_hall(n * share, n), found.samples) < 4


def test_a_triangle_has_its_own_tails():
    found = error_budget(one("triangular"), Q_(0.01, "mm"))
    assert errors_apart(found.chance, 0.75, found.samples) < 4
    assert found.chance_small + found.chance + found.chance_large == pytest.approx(1)


def test_too_small_and_too_large_are_told_apart():
    found = error_budget(one(shift=0.01), Q_(0.02, "mm"))
    assert errors_apart(found.chance_large, 0.5, found.samples) < 4
    below = 0.5 * math.erfc(2 / math.sqrt(2))
    assert errors_apart(found.chance_small, below, found.samples) < 4
    assert found.normal_chance == pytest.approx(0.5 - below, abs=1e-6)


def test_the_seed_decides_and_nothing_else():
    again = error_budget([DEFLECTION, DIAL, MICROMETER], LIMITS)
    other = error_budget([DEFLECTION, DIAL, MICROMETER], LIMITS, seed=2)
    assert again.chance == BUDGET.chance
    assert other.chance != BUDGET.chance
    assert abs(other.chance - BUDGET.chance) < 4 * BUDGET.chance_half_width


def test_drawn_spread_has_the_standard_deviation_of_the_squares():
    parts = [item.plain for item in (DEFLECTION, DIAL, MICROMETER)]
    errors = kernel.draw(parts, 400_000, np.random.default_rng(5))
    assert errors.mean() == pytest.approx(0.012, abs=5e-5)
    assert errors.std() == pytest.approx(BUDGET.standard_deviation.m_as("mm"), rel=5e-3)


def test_the_true_chance_is_held_about_95_times_in_100():
    law, limits = math.erf(1 / math.sqrt(2)), Q_(0.02, "mm")
    runs = [error_budget(one(), limits, samples=1000, seed=seed) for seed in range(300)]
    held = sum(abs(run.chance - law) <= run.chance_half_width for run in runs)
    assert abs(held - 285) < 4 * math.sqrt(300 * 0.95 * 0.05)


# What it shows


def test_working_and_rows_can_be_redone_by_hand():
    said = BUDGET.working.text()
    for word in ("2 x a / sqrt 3", "sqrt(sum of squares)", "JCGM 100", "Cpk"):
        assert word in said
    frame = BUDGET.to_frame()
    assert list(frame["contribution"]) == ["deflection", "re-zeroing", "instrument"]
    assert math.sqrt((frame["standard deviation [mm]"] ** 2).sum()) == pytest.approx(0.01232, abs=5e-5)
    assert "no correlation" in str(BUDGET)


def test_the_table_of_typical_spreads_is_usable_and_honest():
    assert len(error_sources()) >= 10
    for name in error_sources():
        found = error_source(name)
        assert 0 < found.spread.m_as("mm") <= 0.1
        assert found.shift.m_as("mm") == 0
        assert "common practice" in error_source_note(name) or "from memory" in error_source_note(name)
    assert error_budget([error_source(name) for name in error_sources()], Q_(0.5, "mm")).cp > 0


# Bad input beyond the table of nonsense


@pytest.mark.parametrize(("make", "said"), [
    (lambda: Contribution("x", spread=Q_(0.01, "mm"), kind="fixed"), "no spread with a fixed"),
    (lambda: Contribution("x", on="length"), '"diameter"'),
    (lambda: error_budget([one(), one()], Q_(0.1, "mm")), '"normal" twice'),
    (lambda: error_budget(Contribution("x", on="lead"), Q_(0.1, "mm")), "need a thread"),
    (lambda: error_budget([one("normal"), 3], Q_(0.1, "mm")), "list of 1 to 50"),
    (lambda: error_budget(one(), Span(None, None)), "open at both ends"),
    (lambda: error_budget(one(), Span(Q_(2, "mm"), Q_(1, "mm"))), "room between"),
    (lambda: error_budget(one(), Span(Q_(2, "kg"), Q_(1, "mm"))), "tolerance"),
    (lambda: error_budget(one(), Span(None, Q_(10, "mm"))), "aim: got none"),
    (lambda: error_budget(one(), LIMITS, aim=Q_(32, "mm")), "less than 32 mm"),
    (lambda: error_budget(one(), LIMITS, samples=10_000_000), "1000 to 1000000"),
])  # fmt: skip
def test_bad_input_is_answered_in_sentences(make, said):
    with pytest.raises(ValueError, match="Try") as refused:
        make()
    assert said in str(refused.value)


def test_one_message_names_everything_and_invents_nothing():
    with pytest.raises(ValueError, match="4 arguments") as refused:
        error_budget([], Q_(1, "kg"), aim=Q_(5, "mm"), coverage=9, seed=-1)
    said = str(refused.value)
    assert all(word in said for word in ("contributions", "tolerance", "coverage", "seed"))
    assert "aim" not in said.replace("aim=", "")
