"""How deflection behaves: shapes, units, limits, and laws that any elastic part obeys."""

import dataclasses
import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.deflection import (
    BetweenCenters,
    Chuck,
    ChuckAndCenter,
    Shaft,
    deflected_shape,
    deflection,
    deflection_working,
)
from latheworks.errors import Impossible
from latheworks.tables import table
from latheworks.units import Q_

RIGID, RIGID_TILT = Q_(math.inf, "N/mm"), Q_(math.inf, "N*mm/rad")
FORCE = Q_(150, "N")
BARREL = Shaft([(Q_(60, "mm"), Q_(32, "mm"), Q_(20, "mm")), (Q_(120, "mm"), Q_(32, "mm"), Q_(26, "mm"))], Q_(69, "GPa"))
REST = (Q_(70, "mm"), Q_(2e4, "N/mm"))
HOLDINGS = [Chuck(), Chuck(rest=REST), ChuckAndCenter(), ChuckAndCenter(rest=REST), BetweenCenters(),
            BetweenCenters(rest=REST)]  # fmt: skip

lengths = st.floats(0.5, 200)
sizes = st.floats(2, 100)
shares = st.floats(0, 1)
stiffnesses = st.one_of(st.floats(1e2, 1e8), st.just(math.inf))


@st.composite
def shafts(draw):
    pieces = draw(st.lists(st.tuples(lengths, sizes, st.floats(0, 0.95)), min_size=1, max_size=6))
    return Shaft([(Q_(l, "mm"), Q_(d, "mm"), Q_(d * hollow, "mm")) for l, d, hollow in pieces], Q_(69, "GPa"))  # noqa: E741


@st.composite
def holdings(draw):
    spring = lambda: Q_(draw(stiffnesses), "N/mm")  # noqa: E731
    tilt = Q_(draw(st.one_of(st.floats(1e6, 1e11), st.just(math.inf))), "N*mm/rad")
    kind = draw(st.sampled_from(["chuck", "both", "centers"]))
    if kind == "chuck":
        return Chuck(tilt=tilt, radial=spring())
    if kind == "both":
        return ChuckAndCenter(tilt=tilt, radial=spring(), center=spring())
    return BetweenCenters(head=spring(), tail=spring())


def under(shaft, holding, at):
    return deflection(shaft, holding, FORCE, at).m_as("mm")


@settings(max_examples=60, deadline=None)
@given(shafts(), holdings(), shares, shares)
def test_push_here_and_look_there_is_push_there_and_look_here(shaft, holding, one, two):
    """Maxwell's law of reciprocal deflections, any text on structures."""
    x, a = one * shaft.length, two * shaft.length
    there = deflected_shape(shaft, holding, FORCE, a, x).m_as("mm")
    back = deflected_shape(shaft, holding, FORCE, x, a).m_as("mm")
    assert there == pytest.approx(back, rel=1e-9, abs=1e-9 * under(shaft, holding, shaft.length) + 1e-12)


@settings(max_examples=60, deadline=None)
@given(shafts(), holdings(), shares, shares, st.floats(1e3, 1e8))
def test_a_rest_never_lets_the_tool_push_further(shaft, holding, share, place, stiffness):
    at = share * shaft.length
    rest = (max(place, 0.01) * shaft.length, Q_(stiffness, "N/mm"))
    free, rested = under(shaft, holding, at), under(shaft, dataclasses.replace(holding, rest=rest), at)
    assert -1e-12 <= rested <= free * (1 + 1e-9) + 1e-15


@settings(max_examples=60, deadline=None)
@given(shafts(), st.floats(1e3, 1e8), st.floats(1, 100), shares)
def test_a_stiffer_support_never_lets_the_tool_push_further(shaft, soft, times, share):
    at = share * shaft.length
    weak, strong = Q_(soft, "N/mm"), Q_(soft * times, "N/mm")
    for kind, name in ((Chuck, "radial"), (ChuckAndCenter, "center"), (BetweenCenters, "tail")):
        assert under(shaft, kind(**{name: strong}), at) <= under(shaft, kind(**{name: weak}), at) * (1 + 1e-9) + 1e-15


@pytest.mark.parametrize("holding", HOLDINGS, ids=str)
def test_force_scales_and_a_cut_in_the_drawing_changes_nothing(holding):
    at = BARREL.length * np.linspace(0, 1, 31)
    once = under(BARREL, holding, at)
    assert deflection(BARREL, holding, 3 * FORCE, at).m_as("mm") == pytest.approx(3 * once, rel=1e-12)
    assert not deflection(BARREL, holding, Q_(0, "N"), at).m.any()
    split = [(size / 3, outside, bore) for size, outside, bore in BARREL.sections for _ in range(3)]
    assert under(Shaft(split, BARREL.material), holding, at) == pytest.approx(once, rel=1e-10)


@pytest.mark.parametrize("holding", HOLDINGS, ids=str)
def test_shape_and_deflection_agree_under_the_tool(holding):
    at = BARREL.length * 0.4
    shape = deflected_shape(BARREL, holding, FORCE, at, BARREL.length * np.array([0.1, 0.4, 0.9])).m_as("mm")
    assert shape[1] == pytest.approx(under(BARREL, holding, at), rel=1e-12)


def test_turned_round_between_centers_is_the_mirror_image():
    springs = {"head": Q_(5e4, "N/mm"), "tail": Q_(2e4, "N/mm")}
    mirrored = BetweenCenters(head=springs["tail"], tail=springs["head"])
    at = BARREL.length * np.linspace(0, 1, 11)
    there = under(BARREL, BetweenCenters(**springs), at)
    assert under(BARREL.reversed(), mirrored, at)[::-1] == pytest.approx(there, rel=1e-12)


def test_nothing_gives_where_a_rigid_support_stands():
    chuck = ChuckAndCenter(tilt=RIGID_TILT, radial=RIGID, center=RIGID, rest=(Q_(70, "mm"), RIGID))
    centers = BetweenCenters(head=RIGID, tail=RIGID, rest=(Q_(70, "mm"), RIGID))
    for holding in (chuck, centers):
        assert under(BARREL, holding, Q_([0.0, 70.0, 180.0], "mm")) == pytest.approx([0, 0, 0], abs=1e-15)
        assert (under(BARREL, holding, Q_([30.0, 120.0], "mm")) > 1e-7).all()


def test_a_rest_on_top_of_a_rigid_center_changes_nothing():
    held = ChuckAndCenter(center=RIGID)
    doubled = dataclasses.replace(held, rest=(BARREL.length, RIGID))
    at = BARREL.length * np.linspace(0, 1, 11)
    assert under(BARREL, doubled, at) == pytest.approx(under(BARREL, held, at), rel=1e-12)


def test_very_stiff_is_rigid_and_very_soft_is_nearly_absent():
    at = BARREL.length * np.linspace(0.05, 0.95, 19)
    stiff = ChuckAndCenter(tilt=Q_(1e15, "N*mm/rad"), radial=Q_(1e15, "N/mm"), center=Q_(1e15, "N/mm"))
    rigid = ChuckAndCenter(tilt=RIGID_TILT, radial=RIGID, center=RIGID)
    assert under(BARREL, stiff, at) == pytest.approx(under(BARREL, rigid, at), rel=1e-6)
    soft = ChuckAndCenter(center=Q_(1, "N/mm"))
    assert under(BARREL, soft, at) == pytest.approx(under(BARREL, Chuck(), at), rel=2e-3)


def test_scalars_arrays_and_other_units():
    one = deflection(BARREL, Chuck(), FORCE, Q_(90, "mm"))
    assert isinstance(one.m, float)
    assert one.u == Q_(1, "mm").u
    grid = deflection(BARREL, Chuck(), FORCE, Q_([[90.0, 10.0], [0.0, 180.0]], "mm"))
    assert grid.shape == (2, 2)
    assert grid.m[0, 0] == pytest.approx(one.m, rel=1e-14)
    inches = deflection(BARREL, Chuck(), FORCE.to("lbf"), Q_(90 / 25.4, "in"))
    assert inches.m_as("mm") == pytest.approx(one.m, rel=1e-12)
    # The very end, worked out in inches, must not be refused for its last bit.
    deflection(BARREL, Chuck(), FORCE, Q_(math.nextafter(180 / 25.4, 9), "in"))


def test_slivers_and_eggshells_stay_finite():
    sliver = Shaft(
        [(Q_(1e-6, "mm"), Q_(20, "mm"), Q_(0, "mm")), (Q_(80, "mm"), Q_(20, "mm"), Q_(0, "mm"))], Q_(69, "GPa")
    )
    whole = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    assert under(sliver, Chuck(), Q_(80, "mm")) == pytest.approx(under(whole, Chuck(), Q_(80, "mm")), rel=1e-6)
    eggshell = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), Q_(math.nextafter(20, 0), "mm"), material=Q_(69, "GPa"))
    assert math.isfinite(under(eggshell, Chuck(), Q_(80, "mm")))


def test_a_shaft_can_be_turned_and_gripped_and_weighed():
    named = Shaft(BARREL.sections, "6061-T6")
    assert named.reversed().reversed() == named
    assert [s[2].m for s in named.reversed().sections] == [26, 20]
    out = named.stickout(Q_(60, "mm"))
    assert len(out.sections) == 1
    assert out.length.m_as("mm") == pytest.approx(120)
    assert named.stickout(Q_(70, "mm")).length.m_as("mm") == pytest.approx(110)
    parts = named.mass - named.stickout(Q_(60, "mm")).mass
    assert parts.m_as("kg") == pytest.approx(math.pi / 4 * (32**2 - 20**2) * 60 * 2700e-9)
    with pytest.raises(Impossible, match="density"):
        _ = BARREL.mass


def test_cards_and_frames():
    assert "section 2" in str(BARREL)
    assert "bore 26.000 mm" in BARREL._repr_html_()
    assert list(BARREL.to_frame()["outside [mm]"]) == [32, 32]
    assert "rest" in str(HOLDINGS[1])
    with pytest.raises(dataclasses.FrozenInstanceError):
        BARREL.material = "brass"


def test_defaults_come_from_the_stiffness_table_and_published_values_scatter():
    rows = {row["name"]: row for row in table("stiffness")}
    assert Chuck().radial.m_as("N/mm") == float(rows["chuck"]["radial [N/mm]"])
    assert Chuck().tilt.m_as("N*mm/rad") == float(rows["chuck"]["tilt [N*mm/rad]"])
    published = [float(r["radial [N/mm]"]) for r in rows.values() if r["role"] == "published" and "chuck" in r["name"]]
    assert max(published) > 4 * min(published)


def redone(sums):
    """Do one line's arithmetic, and say how far its rounded numbers and the rounded result may take it off."""
    for mark, operator in (("×", "*"), ("−", "-"), ("²", "**2"), ("³", "**3"), ("⁴", "**4")):
        sums = sums.replace(mark, operator)

    def work(text):
        return eval(text, {"__builtins__": {}, "pi": math.pi})

    worked, off = work(sums), 0.0
    for number in re.finditer(r"(?<![*\d.])\d+(?:\.(\d+))?", sums):
        if len(number[0].replace(".", "").strip("0")) >= 5:
            moved = float(number[0]) + half_a_unit(number[0])
            off += abs(work(f"{sums[: number.start()]}{moved!r}{sums[number.end() :]}") - worked)
    return worked, off


def half_a_unit(text):
    """Half a unit of the sixth digit of a number, or of its last one where more are written."""
    size = abs(float(text))
    return 0.5 * 10.0 ** (math.floor(math.log10(size)) - 5) if size else 0.0


@pytest.mark.parametrize("at", [0, 25, 60, 110, 180])
@pytest.mark.parametrize("holding", HOLDINGS, ids=str)
def test_the_working_can_be_redone_by_hand(holding, at):
    """Every line is arithmetic whose result is the one written, to its printed digits; the last is the deflection."""
    lines = deflection_working(BARREL, holding, FORCE, Q_(at, "mm")).lines
    for line in lines:
        written = line.result.split()[0].strip("()")
        worked, off = redone(line.numbers)
        assert abs(worked - float(written)) <= 1.01 * (off + half_a_unit(written)) + 1e-12, line
        assert len(written.replace(".", "").strip("-0")) <= 6, line
        assert "e" not in written, line
    last = lines[-1].result.split()[0]
    assert float(last) == pytest.approx(under(BARREL, holding, Q_(at, "mm")), abs=1.01 * half_a_unit(last))


def test_the_working_names_what_gives_way():
    """Shift, tilt and bending have a line each, and add up to the flexibility: 1/50, 80 x 80/2e6, 80^3/(3 EI)."""
    bar = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    holding = Chuck(radial=Q_(50, "N/um"), tilt=Q_(2e9, "N*mm/rad"))
    lines = {line.symbol: line for line in deflection_working(bar, holding, FORCE, Q_(80, "mm"))}
    assert lines["shift(a,a)"].formula == "1/k_radial [N/µm]"
    assert lines["shift(a,a)"].result == "0.02 µm/N"
    assert lines["tilt(a,a)"].formula == "a a/k_tilt [N m/rad]"
    assert lines["tilt(a,a)"].result == "0.0032 µm/N"
    bending = 80**3 / (3 * 69 * math.pi / 64 * 20**4)
    assert float(lines["bending(a,a)"].result.split()[0]) == pytest.approx(bending, rel=1e-5)
    assert float(lines["y"].result.split()[0]) == pytest.approx(0.15 * (0.02 + 0.0032 + bending), rel=1e-5)
