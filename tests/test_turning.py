"""Plans of turning: what is left, what limits, and what it takes, each against another way of working it out."""

import math

import numpy as np
import pytest

from latheworks.cutting import cutting_forces, power
from latheworks.deflection import Chuck, ChuckAndCenter, Shaft, deflection, grip
from latheworks.errors import LatheworksError
from latheworks.passes import Groove, Profile, turning_passes
from latheworks.shop import lathe
from latheworks.units import Q_, U

MM = U.mm
STEPS = [(10, 28), (50, 28), (50, 20), (80, 20)]
TAPER = [(0, 40), (30, 40), (30, 34), (70, 24), (70, 20), (100, 20)]
BORE = [(0, 18), (40, 18), (40, 24), (60, 30)]
FEED, SPEED, KAPPA = Q_(0.2, "mm/rev"), Q_(90, "m/min"), Q_(60, "degree")


def points(pairs):
    return [(Q_(z, MM), Q_(d, MM)) for z, d in pairs]


def plan(pairs=STEPS, material="steel 1018", feed=FEED, **more):
    known = {"surface_speed": SPEED} if "spindle" not in more else {}
    if "stock" not in more and "side" not in more:
        known["stock"] = Q_(max(d for _, d in pairs) + 4, MM)
    return turning_passes(points(pairs), material, feed, **{**known, **more})


def bore(**more):
    return plan(BORE, side="inside", stock=Q_(14, MM), **more)


def left_after(found, kinds, sign=1.0):
    """The stock cut down pass by pass on a fine grid, straight passes only: z and radius."""
    z = np.linspace(found.profile.z[0], found.profile.z[-1], 4001)
    radius = np.full(z.size, found.profile.stock.m_as(MM) / 2)
    for kind, start, end, before, after in zip(
        found.kinds, found.start.m_as(MM), found.end.m_as(MM), found.before.m_as(MM), found.after.m_as(MM), strict=True
    ):
        if kind not in kinds:
            continue
        here = (z >= start - 1e-9) & (z <= end + 1e-9)
        assert np.allclose(radius[here], before / 2, atol=1e-6), "a pass meets what the pass before it left"
        radius[here] = after / 2
    return z, radius


def wanted(found, z):
    """The finished radius at each place; at a wall the side that stands out."""
    shape = found.profile
    both = np.array([np.interp(z + shift, shape.z, shape.radius) for shift in (-1e-7, 1e-7)])
    return both.min(axis=0) if shape.inside else both.max(axis=0)


def test_roughing_leaves_the_allowance_on_every_cylinder_and_no_cut_goes_deeper():
    found = plan(finish_allowance=Q_(0.3, MM))
    z, radius = left_after(found, {"rough"})
    over = radius - wanted(found, z)
    assert over.min() == pytest.approx(0.3, abs=1e-9)
    # Away from the wall all of it; the wall itself keeps the allowance too, along the axis.
    assert over[(z < 49.9) | (z > 50.31)].max() == pytest.approx(0.3, abs=1e-9)
    assert over[(z > 50.01) & (z < 50.29)].min() > 3


def test_a_taper_keeps_at_least_the_allowance_and_its_stairs_get_a_pass_of_their_own():
    found = plan(TAPER)
    z, radius = left_after(found, {"rough"})
    assert (radius - wanted(found, z)).min() >= 0.25 - 1e-9
    assert found.kinds[-2:] == ("semi-finish", "finish")
    assert "semi-finish" not in plan().kinds


def test_an_inside_profile_is_cut_from_the_bore_outward():
    found = bore()
    rough = np.array([kind == "rough" for kind in found.kinds])
    assert (found.after[rough] > found.before[rough]).all()
    assert (np.diff(found.after[rough].m_as(MM)) >= -1e-9).all()
    z, radius = left_after(found, {"rough"})
    assert (wanted(found, z) - radius).min() >= 0.25 - 1e-9


def disks(z, radius):
    """Volume under a turned outline by Pappus, with many thin disks."""
    return math.pi * np.trapezoid(radius**2, z)


@pytest.mark.parametrize("found", [plan(), plan(TAPER), plan(finish_allowance=Q_(0, MM)), bore()], ids=str)
def test_the_metal_removed_is_stock_less_part(found):
    z = np.linspace(found.profile.z[0], found.profile.z[-1], 400_001)
    part = abs(disks(z, np.full(z.size, found.profile.stock.m_as(MM) / 2)) - disks(z, wanted(found, z)))
    assert found.removed.m_as("mm**3") == pytest.approx(part, rel=1e-4)


def test_equal_cuts_between_cylinders_and_none_above_its_limit():
    found = plan(TAPER, most_depth=Q_(1.1, MM))
    rough = [i for i, kind in enumerate(found.kinds) if kind == "rough"]
    depth = found.depth.m_as(MM)[rough]
    assert (depth <= found.depth_limit.m_as(MM)[rough] + 1e-9).all()
    # 44 to 40.5 mm, then to 20.5 mm, in whole numbers of equal cuts.
    assert depth[:2] == pytest.approx([1.75 / 2] * 2)
    levels = sorted(set(found.after.m_as(MM)[rough].round(6)), reverse=True)
    assert np.diff(levels[1:]) == pytest.approx(np.diff(levels[1:])[0])
    assert levels[-1] == pytest.approx(20.5)


def test_the_power_limit_is_what_the_power_room_says():
    found = plan(wear=1.0)
    name, depth = found.limits[0]
    assert name == found.limit == "power"
    cut = cutting_forces("steel 1018", depth, FEED)
    assert power(cut, found.profile.stock, found.spindle[0]).share == pytest.approx(1.0, abs=1e-3)


def test_power_and_torque_of_a_pass_are_what_the_power_room_says():
    found = plan(wear=1.0)
    same = power(cutting_forces("steel 1018", found.depth[2], FEED), found.before[2], found.spindle[2])
    for name, ours in (("torque", "torque"), ("cutting_power", "power"), ("removal_rate", "removal_rate")):
        assert (getattr(found, ours)[2] / getattr(same, name)).m_as("") == pytest.approx(1.0, rel=1e-4)


def test_slow_and_heavy_it_is_the_torque():
    found = plan([(0, 60), (50, 60), (50, 40), (80, 40)], spindle=Q_(100, "rpm"), most_depth=Q_(10, MM))
    assert found.limit == "torque"
    cut = cutting_forces("steel 1018", found.limits[0][1], FEED, wear=1.3)
    assert power(cut, Q_(64, MM), Q_(100, "rpm")).share == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("shoulder", [False, True])
def test_the_grip_limit_is_what_grip_says(shoulder):
    jaws = {"jaw_mass": Q_(0.8, "kg"), "jaw_radius": Q_(45, MM), "shoulder": shoulder}
    held = grip(Q_(9, "kN"), Q_(20, MM), Q_(500, "rpm"), **jaws)
    found = plan(held=held)
    name, depth = found.limits[0]
    assert name == found.limit == "jaw grip"
    cut = cutting_forces("steel 1018", depth, FEED, wear=1.3)
    torque = cut.tangential * (found.profile.stock - depth) / 2
    again = grip(Q_(9, "kN"), Q_(20, MM), found.spindle[0], torque=torque, thrust=cut.feed_force, **jaws)
    assert again.required_force.m_as("N") == pytest.approx(9000, rel=2e-3)


LONG = {"pairs": [(0, 12), (80, 12)], "stock": Q_(16, MM), "material": "6061", "entering_angle": KAPPA}


def test_the_deflection_limit_is_what_deflection_says():
    found = plan(**LONG, holding=Chuck())
    name, depth = found.limits[0]
    assert name == found.limit == "deflection"
    push = cutting_forces("6061", depth, FEED, entering_angle=KAPPA, wear=1.3).radial
    finished = Shaft.bar(Q_(80, MM), Q_(12, MM), material="6061")
    assert deflection(finished, Chuck(), push, Q_(80, MM)).m_as(MM) == pytest.approx(0.125, rel=1e-3)
    # A center lets it cut deeper, and so does more room to bend; a hole in it the other way.
    assert plan(**LONG, holding=ChuckAndCenter()).limits[0][1] > depth
    assert plan(**LONG, holding=Chuck(), most_deflection=Q_(0.2, MM)).limits[0][1] > depth
    assert plan(**LONG, holding=Chuck(), other_diameter=Q_(6, MM)).limits[0][1] < depth


def test_a_soft_boring_bar_limits_a_bore_and_so_does_a_thin_wall():
    bar = Q_(500, "N/mm")
    found = bore(tool_stiffness=bar, material="6061", most_deflection=Q_(0.05, MM), entering_angle=KAPPA)
    assert found.limit == "deflection"
    push = cutting_forces("6061", found.limits[0][1], FEED, entering_angle=KAPPA, wear=1.3).radial
    assert (push / bar).m_as(MM) == pytest.approx(0.05, rel=1e-3)
    deep = [(0, 18), (150, 18)]
    hole = {"pairs": deep, "side": "inside", "stock": Q_(14, MM), "holding": Chuck(), "entering_angle": KAPPA}
    thin, thick = (dict(plan(**hole, other_diameter=Q_(d, MM)).limits)["deflection"] for d in (20, 22))
    assert thin < thick


def test_time_is_cut_return_and_setting():
    found = plan(spindle=Q_(600, "rpm"), approach=Q_(3, MM), overrun=Q_(1, MM), return_speed=Q_(600, "mm/min"),
                 setting_time=Q_(6, "s"))  # fmt: skip
    length = (found.end - found.start)[0].m_as(MM)
    assert found.cutting_time[0].m_as("min") == pytest.approx((length + 4) / (0.2 * 600))
    assert found.idle_time[0].m_as("min") == pytest.approx((length + 4) / 600 + 0.1)
    assert found.time.m_as("min") == pytest.approx(float((found.cutting_time + found.idle_time).m_as("min").sum()))


def test_the_finish_pass_runs_along_the_whole_profile():
    found = plan(TAPER, spindle=Q_(600, "rpm"), approach=Q_(0, MM), finish_feed=Q_(0.1, "mm/rev"))
    side = 30 + 3 + math.hypot(40, 5) + 2 + 30
    assert found.cutting_time[-1].m_as("min") == pytest.approx(side / (0.1 * 600), rel=1e-6)
    assert (found.spindle == found.spindle[0]).all()


def test_a_pocket_is_pointed_out_and_a_profile_object_is_read():
    grooved = Profile(points([(0, 30), (80, 30)]), stock=Q_(30, MM), grooves=Groove(Q_(40, MM), Q_(12, MM), Q_(24, MM)))
    found = turning_passes(grooved, "6061", FEED, surface_speed=SPEED)
    assert len(found.entered_from_above) == found.kinds.count("rough")
    assert any("solid" in note for note in found.notes)
    assert not plan().entered_from_above
    larger = turning_passes(grooved, "6061", FEED, surface_speed=SPEED, stock=Q_(34, MM))
    assert larger.profile.grooves
    assert larger.removed > found.removed


def test_what_was_not_looked_at_is_said():
    assert len(plan().notes) == 2
    held = grip(Q_(60, "kN"), Q_(32, MM), Q_(500, "rpm"), jaw_mass=Q_(0.8, "kg"), jaw_radius=Q_(45, MM))
    assert plan(held=held, holding=Chuck()).notes == ()
    assert any("spindle" in note for note in plan(most_spindle=Q_(600, "rpm")).notes)


def test_inch_and_metric_give_the_same_plan_and_text_in_their_own_units():
    inch = turning_passes([(z.to("in"), d.to("in")) for z, d in points(STEPS)], "steel 1018", FEED.to("in/rev"),
                          stock=Q_(32, MM).to("in"), surface_speed=SPEED.to("ft/min"), system="inch")  # fmt: skip
    assert inch.depth.m_as(MM) == pytest.approx(plan().depth.m_as(MM))
    assert "depth [in]" in inch.columns()
    assert " in" in str(inch)
    assert len(plan().to_frame()) == plan().passes
    assert "geometry" in plan().working.text()


@pytest.mark.parametrize(("more", "said"), [
    ({"spindle": Q_(600, "rpm"), "surface_speed": SPEED}, "both"),
    ({"stock": Q_(20, MM)}, "stock"),
    ({"stock": Q_(28, MM), "pairs": [(0, 28), (50, 28)]}, "own size"),
    ({"pairs": [(0, 28), (50, 28), (40, 20)]}, "crosses itself"),
    ({"pairs": [(0, 1), (50, 1)], "stock": Q_(249, MM), "most_depth": Q_(0.2, MM)}, "500 passes"),
    ({"feed": Q_(2, "mm/rev"), "spindle": Q_(1000, "rpm")}, "carriage"),
    ({"side": "inside", "stock": Q_(0, MM)}, "drill first"),
    ({"other_diameter": Q_(22, MM)}, "wall"),
    ({"holding": Chuck(), "pairs": [(-10, 28), (50, 20)]}, "chuck face"),
])  # fmt: skip
def test_impossible_plans_are_refused_in_words(more, said):
    with pytest.raises(LatheworksError, match=said):
        plan(**more)


def test_a_grip_that_holds_nothing_is_named():
    weak = grip(Q_(300, "N"), Q_(20, MM), Q_(500, "rpm"), jaw_mass=Q_(0.8, "kg"), jaw_radius=Q_(45, MM))
    with pytest.raises(LatheworksError, match="jaw grip"):
        plan(held=weak)
    assert lathe().largest_feed.m_as("mm/min") == 1200
