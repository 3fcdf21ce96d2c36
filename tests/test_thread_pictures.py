"""What the pictures of fit, wires and pick-up draw, number by number, against the library and against geometry."""

import math

import numpy as np
import pytest

from latheworks.pictures.flanks import ridges, trapezoid
from latheworks.threads import fit, pick_up
from latheworks.units import Q_
from latheworks.widgets import display_system, fit_bench, pickup_bench, wires_bench
from tests.benches import SYSTEMS

pytestmark = pytest.mark.usefixtures("benches")


def factor(system):
    return 25.4 if system == "inch" else 1.0


@pytest.mark.parametrize("half", [30.0, 14.5, 15.0])
def test_flanks_stand_at_their_angle(half):
    tan = math.tan(math.radians(half))
    x = np.linspace(-1, 1, 4001)
    r = ridges(x, 2.0, tan, 20.0, 18.9, 18.0)
    assert (r.max(), r.min()) == pytest.approx((10.0, 9.0))
    slope = np.abs(np.diff(r) / np.diff(x))
    assert np.median(slope[slope > 0.1]) == pytest.approx(1 / tan)
    # On the pitch diameter ridge and groove are equally wide (ISO 68-1, ASME B1.5).
    assert np.ptp(x[r > 9.45]) == pytest.approx(1.0, abs=2e-3)
    corners = trapezoid(0.5, 0.1, 0.3, tan, -1.0)
    assert corners[:, 1].min() == -0.5
    assert corners[3, 0] - corners[0, 0] == pytest.approx(0.3 + 2 * 0.5 * tan)


@SYSTEMS
def test_fit_draws_the_zones(system):
    display_system.system = system
    bench, joint = fit_bench("M24x1.5-6g"), fit("M24x1.5-6g")
    by, picture = factor(system), bench.picture
    for kind, part in (("external", joint.external), ("internal", joint.internal)):
        zone = picture.bars[kind].get_paths()[1].vertices[:, 1] * by + part.pitch_diameter.m_as("mm")
        limits = part.limits.pitch_diameter
        assert (zone.min(), zone.max()) == pytest.approx((limits.min.m_as("mm"), limits.max.m_as("mm")))
    outer = picture.zones["external"].get_xy()[:, 1].max() * by
    # Metal is drawn as far as every part has it: up to the smallest screw.
    metal = picture.metal["external"].get_xy()[:, 1].max() * by
    assert metal == pytest.approx(joint.external.limits.major.min.m_as("mm") / 2)
    inner = picture.zones["internal"].get_xy()
    assert outer == pytest.approx(joint.external.limits.major.max.m_as("mm") / 2)
    # Between the zones lies half the least clearance: at the crest of the screw as the standard has it.
    top = inner[np.abs(inner[:, 0]) < 1e-6][:, 1].min() * by
    assert 2 * (top - outer) == pytest.approx(joint.clearance.major.min.m_as("mm"), abs=1e-6)
    words = [text.get_text() for text in picture.gap_words]
    assert words == [picture.look.mm(joint.clearance.pitch_diameter.min.m_as("mm"))] * 3


@SYSTEMS
@pytest.mark.parametrize("designation", ["M24x1.5-6g", "1-12 UNF-2A"])
def test_wires_are_drawn_where_they_rest(system, designation):
    display_system.system = system
    bench = wires_bench(designation)
    data, by = bench.picture_data, factor(system)
    circles = [path.vertices * by for path in bench.picture.wires.get_paths()]
    assert [np.ptp(c[:, 0]) for c in circles] == pytest.approx([data.wire] * 3)
    # Outside of wires to outside of wires on paper, with the part left out in the middle, is the reading.
    left_out = data.center - circles[0][:, 1].mean()
    over = circles[0][:, 1].max() - circles[2][:, 1].min() + 2 * left_out
    assert over == pytest.approx(data.reading, abs=1e-3)
    # The best wire touches on the pitch line, and no point of it lies in the metal.
    assert 2 * data.touch[1] == pytest.approx(data.size)
    x = circles[1][:, 0]
    r = ridges(x, data.pitch, data.tan, data.major, data.size, data.root) - left_out
    assert (circles[1][:, 1] - r).min() > -1e-3 * data.wire
    zone = bench.picture.zone.get_xy()[:, 1] * by
    assert (zone.min(), zone.max()) == pytest.approx(data.readings)


def test_the_third_wire_lies_half_a_lead_along():
    one, two = wires_bench("M24x1.5-6g"), wires_bench("M24xPh3P1.5-6g")
    assert [x for x, _ in one.picture.places(one.picture_data)] == pytest.approx([-0.75, 0.75, 0.0])
    assert abs(two.picture.places(two.picture_data)[2][0]) == pytest.approx(0.75)


@SYSTEMS
def test_pick_up_draws_tool_groove_and_limits(system):
    display_system.system = system
    bench = pickup_bench("M24x1.5-6g", remaining=Q_(0.1, "mm"), error=Q_(0.08, "mm"))
    data, by, picture = bench.picture_data, factor(system), bench.picture
    tool = np.column_stack(picture.tool.get_data()) * by
    old = picture.groove.get_xy() * by
    assert tool[:, 0].mean() == pytest.approx(0.08)
    assert old[:4, 0].mean() == pytest.approx(0.0, abs=1e-12)
    assert tool[:, 1].min() - old[:, 1].min() == pytest.approx(-0.1)
    # How far the old flank stands back from the new one on paper is the library's step.
    assert tool[0, 0] - old[0, 0] == pytest.approx(data.step)
    found = pick_up("M24x1.5-6g", remaining=Q_(0.1, "mm"))
    assert data.step == pytest.approx(found.after(Q_(0.08, "mm")).flank_step.m_as("mm"))
    zone = picture.allowed.get_xy()[:, 1] * by
    assert zone.max() == pytest.approx((found.allowed + found.free).m_as("mm")) == pytest.approx(-zone.min())
    x, y = (float(part[1]) for part in picture.hand.get_data())
    assert math.degrees(math.atan2(x, y)) == pytest.approx(360 * 0.08 / 1.5)
