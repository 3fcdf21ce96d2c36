"""The balance of force and bending: closed forms of a linear force, spring passes, edge force, and the traps."""

from math import inf

import numpy as np
import pytest

from latheworks.cutting.kernel import radial_force
from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflection, size_error
from latheworks.deflection.moving_kernel import euler_load
from latheworks.deflection.size_kernel import Give, run
from latheworks.units import Q_, U, show

RIGID = Chuck(tilt=Q_(inf, "N*mm/rad"), radial=Q_(inf, "N/mm"))
STIFF_CENTERS = BetweenCenters(head=Q_(inf, "N/mm"), tail=Q_(inf, "N/mm"))
DEPTH, FEED = Q_(0.5, "mm"), Q_(0.1, "mm/rev")


def bar(length, outside, bore=0.0, material="6061-T6"):
    return Shaft.bar(Q_(length, "mm"), Q_(outside, "mm"), Q_(bore, "mm"), material)


def linear(slope, stiffness, depth, passes, edge=0.0, radius=20.0):
    """Our passes with a radial force of slope x depth, and no other."""
    stiffness = np.atleast_1d(np.asarray(stiffness, dtype=float))
    ones = np.ones((passes, len(stiffness)))
    give = Give(ones / stiffness, 0.0 * ones, 0.0 * ones)
    blank = np.full(len(stiffness), radius)
    return run(
        lambda met, taken: (0 * taken, 0 * taken, slope * taken), give, edge, blank, ones * (radius - depth), 0.0
    )


STIFFNESSES = np.array([20.0, 500.0, 3e3, 1e5, 1e7])


def test_trap_14_a_linear_force_leaves_the_closed_form_and_never_more_than_the_depth():
    """y = ap K/(K + k), not ap K/k, which would be more than the depth on a soft part."""
    left = (linear(400.0, STIFFNESSES, 0.5, 1).left - 19.5)[0]
    assert left == pytest.approx(0.5 * 400 / (400 + STIFFNESSES), rel=1e-9)
    assert (left < 0.5).all()
    assert 0.5 * 400 / STIFFNESSES[0] > 0.5


def test_spring_passes_fall_by_the_same_ratio_each():
    passes = linear(400.0, STIFFNESSES[:4], 0.5, 5)
    ratio = 400 / (400 + STIFFNESSES[:4])
    for k in range(5):
        assert passes.left[k] - 19.5 == pytest.approx(0.5 * ratio ** (k + 1), rel=1e-8, abs=2e-9)
    assert passes.ratio == pytest.approx(np.tile(ratio, (5, 1)), rel=1e-6)


def test_trap_15_an_edge_force_is_left_for_ever():
    """y_n = y_limit + eps^n (...), and below the limit the tool only rubs."""
    edge, k = 5.0, STIFFNESSES[1:4]
    passes = linear(400.0, k, 0.5, 30, edge)
    ratio, limit = 400 / (400 + k), edge / k
    first = (0.5 * 400 + edge) / (400 + k)
    for n in (0, 1, 4):
        assert passes.left[n] - 19.5 == pytest.approx(limit + (first - limit) * ratio**n, rel=1e-8)
    assert passes.left[-1] - 19.5 == pytest.approx(limit, rel=1e-6)
    rubbing = linear(400.0, k, 1e-7, 2, edge)
    assert (rubbing.taken == 0.0).all()
    assert (rubbing.ratio == 1.0).all()


def test_the_public_limit_is_where_spring_passes_stop():
    cut = size_error(bar(150, 20), RIGID, Q_(0.2, "mm"), FEED, Q_([60.0, 150.0], "mm"), spring_passes=20,
                     edge_force=Q_(2, "N"))  # fmt: skip
    assert cut.error.m == pytest.approx(cut.edge_limit.m, rel=1e-3)
    assert (np.diff(cut.per_pass.m, axis=0) <= 1e-12).all()


def test_trap_1_the_error_is_twice_the_bending():
    cut = size_error(bar(100, 25), RIGID, DEPTH, FEED, Q_(100, "mm"))
    assert cut.error.m_as("mm") == pytest.approx(2 * float(cut.bend[0].m_as("mm")), rel=0.02)


def test_trap_2_it_is_the_bending_under_the_tool_as_it_moves():
    """The flexibility at mid length is an eighth of that at the tip, not 5/16 of it."""
    cut = size_error(bar(200, 40), RIGID, DEPTH, FEED, Q_([100.0, 200.0], "mm"), nose_radius=Q_(0.8, "mm"))
    assert cut.flexibility.m[0] / cut.flexibility.m[1] == pytest.approx(1 / 8, rel=1e-9)
    assert cut.error.m[0] / cut.error.m[1] < 1 / 5


def test_trap_3_each_holding_leaves_its_own_shape():
    at = Q_(np.linspace(0, 300, 61), "mm")
    shapes = {}
    for name, holding, size in (
        ("taper", RIGID, 40), ("barrel", STIFF_CENTERS, 20),
        ("skewed", ChuckAndCenter(tilt=Q_(inf, "N*mm/rad"), radial=Q_(inf, "N/mm"), center=Q_(inf, "N/mm")), 20),
        ("saddle", BetweenCenters(head=Q_(12, "N/um"), tail=Q_(12, "N/um")), 80),
    ):  # fmt: skip
        shapes[name] = size_error(bar(300, size), holding, Q_(0.3, "mm"), FEED, at, nose_radius=Q_(0.8, "mm")).error.m
    assert (np.diff(shapes["taper"][5:]) > 0).all()
    assert 25 <= shapes["barrel"].argmax() <= 35
    assert at.m[shapes["skewed"].argmax()] / 300 == pytest.approx(0.586, abs=0.03)
    assert shapes["saddle"][0] > shapes["saddle"][30] < shapes["saddle"][-1]
    assert shapes["saddle"][0] > 0


def test_trap_4_towards_the_chuck_the_old_diameter_carries_the_tool():
    """20 to 16 mm: the old section is 2.44 times as stiff, and the flexibility under the tool says so."""
    cut = {way: size_error(bar(100, 20), RIGID, Q_(2, "mm"), FEED, Q_(100, "mm"), direction=way).flexibility.m
           for way in ("toward the chuck", "away from the chuck")}  # fmt: skip
    assert cut["away from the chuck"] / cut["toward the chuck"] == pytest.approx((20 / 16) ** 4, rel=1e-9)


def test_trap_5_the_order_of_steps_matters():
    steps = Shaft([(Q_(50, "mm"), Q_(30, "mm"), Q_(0, "mm")), (Q_(50, "mm"), Q_(14, "mm"), Q_(0, "mm"))], "6061-T6")
    there, back = (size_error(part, RIGID, DEPTH, FEED, Q_(100, "mm")).error.m for part in (steps, steps.reversed()))
    assert back > 3 * there


def test_trap_6_a_bore_matters_little():
    solid, bored = (size_error(bar(100, 25, bore), RIGID, DEPTH, FEED, Q_(100, "mm")).error.m for bore in (0, 12))
    assert 1.0 < bored / solid < 1.08


def test_trap_7_an_outside_comes_out_large():
    for holding in (Chuck(), ChuckAndCenter(), BetweenCenters(), Chuck(rest=(Q_(60, "mm"), Q_(2e4, "N/mm")))):
        cut = size_error(
            bar(150, 20), holding, DEPTH, FEED, Q_(np.linspace(5, 145, 30), "mm"), nose_radius=Q_(0.8, "mm")
        )
        assert (cut.error.m > 0).all()


def test_trap_9_the_chuck_is_not_a_wall():
    hard, soft = (size_error(bar(125, 25), h, DEPTH, FEED, Q_(125, "mm"), nose_radius=Q_(0.8, "mm")).flexibility.m
                  for h in (RIGID, Chuck(tilt=Q_(1e8, "N*mm/rad"), radial=Q_(inf, "N/mm"))))  # fmt: skip
    assert soft / hard == pytest.approx(1 + 3 * 69_000 * np.pi / 64 * 25**4 / (125 * 1e8), rel=1e-9)


def test_trap_10_the_largest_force_enters_as_a_square():
    cut = size_error(bar(150, 20), RIGID, DEPTH, FEED, Q_(150, "mm"), nose_radius=Q_(0.8, "mm"))
    away, side, left = cut.bend.m[0], cut.side_bend.m[0], cut.diameter.m / 2 + cut.error.m / 2
    assert left == pytest.approx(np.hypot(cut.diameter.m / 2 + away, side), rel=1e-12)
    assert side > 2 * away
    assert cut.error.m < 0.6 * (2 * side)


def test_trap_11_the_feed_force_bends_the_part_back_to_the_tool():
    cuts = {way: size_error(bar(150, 25), RIGID, Q_(0.05, "mm"), FEED, Q_(150, "mm"), nose_radius=Q_(0, "mm"),
                            entering_angle=Q_(75, "degree"), direction=way) for way in
            ("toward the chuck", "away from the chuck")}  # fmt: skip
    back, away = (cuts[way].bend.m[0] for way in cuts)
    plain = float(cuts["toward the chuck"].radial_force.m[0] * cuts["toward the chuck"].flexibility.m)
    assert back < plain < away


def test_trap_13_a_tool_off_center_matters_on_a_small_diameter():
    """Touched off on the blank: nothing there, more the smaller what is left, sqrt(x^2 + e^2)."""
    errors = []
    for depth in (0.01, 2.0, 4.0):
        cut = size_error(bar(12, 12, material="brass"), RIGID, Q_(depth, "mm"), Q_(0.05, "mm/rev"), Q_(1e-3, "mm"),
                         off_center=Q_(0.5, "mm"))  # fmt: skip
        stand = np.sqrt(6**2 - 0.5**2) - depth
        assert cut.error.m == pytest.approx(2 * (np.hypot(stand, 0.5) - 6 + depth), rel=1e-4, abs=1e-7)
        errors.append(cut.error.m)
    assert 0 < errors[0] < 1e-4 < errors[1] < errors[2]


def test_trap_16_a_blank_out_of_round_gives_a_part_out_of_round():
    """What a surface that stands out by a little more leaves more, with part and setting the same."""
    cut = size_error(
        bar(120, 20), RIGID, Q_(0.3, "mm"), FEED, Q_(119, "mm"), nose_radius=Q_(1.2, "mm"), spring_passes=2
    )
    sag, turn = float(cut.flexibility.m), float(cut.couple_flexibility.m)
    column = np.ones((3, 1))
    give = Give(column * sag, column * sag, -column * turn * 9.7)

    def left(blank):
        force = lambda met, taken: radial_force(800, 0.25, taken, 0.1, 1.2, 90.0)  # noqa: E731
        return run(force, give, 0.0, np.array([blank]), column * 9.7, 0.0)

    even, high = left(10.0), left(10.0 + 1e-5)
    ratios = np.cumprod(even.ratio, axis=0)
    assert (high.left - even.left).ravel() == pytest.approx(1e-5 * ratios.ravel(), rel=1e-3, abs=1e-13)
    copied = cut.copied(Q_(0.02, "mm")).m
    assert copied == pytest.approx(0.02 * np.cumprod(cut.residual_ratio), rel=1e-12)
    assert copied[0] > copied[1] > copied[2] > 0


def test_trap_17_half_the_feed_is_not_half_the_force():
    full, half = (size_error(bar(60, 40), RIGID, DEPTH, Q_(f, "mm/rev"), Q_(60, "mm"), nose_radius=Q_(0, "mm"))
                  .cutting_force.m[0] for f in (0.2, 0.1))  # fmt: skip
    assert full / half == pytest.approx(2**0.75, rel=0.01)


def test_the_forces_are_those_of_the_depth_really_taken():
    cut = size_error(bar(150, 20), Chuck(), DEPTH, FEED, Q_([50.0, 150.0], "mm"), spring_passes=2)
    for name, values in zip(
        ("cutting", "feed", "radial"), radial_force(800, 0.25, cut.depth.m, 0.1, 0.4, 90.0), strict=True
    ):
        assert getattr(cut, f"{name}_force").m == pytest.approx(values, rel=1e-6)
    met = np.vstack([np.full(2, 10.0), 9.5 + cut.per_pass.m[:-1] / 2])
    assert cut.depth.m == pytest.approx(met - (9.5 + cut.per_pass.m / 2), abs=1e-9)


def test_a_tool_that_gives_is_a_spring_in_series():
    stiff, soft = (size_error(bar(60, 30), RIGID, DEPTH, FEED, Q_(60, "mm"), tool_stiffness=Q_(k, "N/mm"))
                   for k in (inf, 2e4))  # fmt: skip
    assert soft.bend.m[0] - stiff.bend.m[0] == pytest.approx(soft.radial_force.m[0] / 2e4, rel=0.05)


def test_a_light_cut_bends_as_the_force_alone_would():
    cut = size_error(bar(40, 40), RIGID, Q_(0.1, "mm"), FEED, Q_(40, "mm"), nose_radius=Q_(1.2, "mm"))
    part = Shaft.bar(Q_(40, "mm"), Q_(40, "mm"), material="6061-T6")
    plain = deflection(part, RIGID, cut.radial_force[0], Q_(40, "mm"))
    assert cut.flexibility.m * cut.radial_force.m[0] == pytest.approx(plain.m, rel=1e-9)


def test_shapes_units_and_texts():
    one = size_error(bar(100, 20), Chuck(), Q_(0.02, "in"), Q_(0.004, "in/rev"), Q_(100, "mm"), spring_passes=1)
    many = size_error(
        bar(100, 20), Chuck(), Q_(0.02, "in"), Q_(0.004, "in/rev"), Q_([50.0, 100.0], "mm"), spring_passes=1
    )
    assert one.error.m == pytest.approx(many.error.m[1], rel=1e-12)
    assert one.per_pass.shape == (2,)
    assert many.per_pass.shape == (2, 2)
    assert one.error.units == U.mm
    assert "0.0200 in" in str(one)
    assert list(many.to_frame()["at [mm]"]) == [50, 100]
    assert show(one.error, "inch") in str(one)
    assert "toward the chuck" in one.title()


@pytest.mark.parametrize(
    ("holding", "factor"), [(RIGID, np.pi**2 / 4), (ChuckAndCenter(), 20.1907), (STIFF_CENTERS, np.pi**2)]
)
def test_the_buckling_load_of_a_bar_is_eulers(holding, factor):
    """Source: Euler's columns, any text on strength of materials; 20.19 E I/L^2 built in and pinned, from memory."""
    part = bar(200, 10)
    rigidity = 69_000 * np.pi / 64 * 10**4
    assert euler_load(holding, part.beam) == pytest.approx(factor * rigidity / 200**2, rel=1e-5)


def test_a_stepped_column_buckles_between_its_two_sections():
    """Half thick, half thin, pinned: k tan-condition of the two lengths solved here for the exact load."""
    part = Shaft([(Q_(100, "mm"), Q_(12, "mm"), Q_(0, "mm")), (Q_(100, "mm"), Q_(10, "mm"), Q_(0, "mm"))], "6061-T6")
    thick, thin = (69_000 * np.pi / 64 * d**4 for d in (12, 10))
    load = np.linspace(thin, thick, 400_001) * np.pi**2 / 200**2
    p, q = np.sqrt(load / thick), np.sqrt(load / thin)
    exact = load[np.abs(np.tan(100 * p) / p + np.tan(100 * q) / q).argmin()]
    # Rayleigh's quotient comes from above.
    assert exact < euler_load(STIFF_CENTERS, part.beam) < 1.04 * exact


def test_the_working_can_be_redone():
    cut = size_error(bar(150, 20), Chuck(), DEPTH, FEED, Q_(150, "mm"), spring_passes=1, off_center=Q_(0.2, "mm"),
                     tool_stiffness=Q_(3e4, "N/mm"), edge_force=Q_(1, "N"))  # fmt: skip
    for line in cut.working:
        if line.symbol in ("Fc", "Fp", "Ff", "y_r", "y_t", "r", "error"):
            text = line.numbers.replace("sqrt", "np.sqrt").replace(" x ", " * ").replace("²", "**2").replace("^", "**")
            assert eval(text, {"np": np}) == pytest.approx(float(line.result.split()[0]), rel=2e-3), line
