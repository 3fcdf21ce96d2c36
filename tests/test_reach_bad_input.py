"""Impossible profiles and tools that fit nowhere: each is refused with its place and what would do."""

import numpy as np
import pytest

from latheworks.errors import Impossible, LatheworksError, NotInTable, OutOfRange
from latheworks.passes import Groove, Profile, TurningTool, reach, split
from latheworks.units import Q_
from tests.reach_shapes import blade, mm, profile, tool

BORE = {"side": "inside", "stock": mm(8)}


@pytest.mark.parametrize(("points", "more", "said"), [
    ([(0, 30), (20, 30), (10, 20)], {}, "point 2, at z = 10 mm, stands nearer to the chuck"),
    ([(0, 30), (20, 30), (20, 10), (20, 20), (40, 20)], {}, "point 3, at z = 20 mm, runs back along its own wall"),
    ([(0, 30), (20, 30), (20, 30)], {}, "is the point before it again"),
    ([(0, 30), (20, 34)], {"stock": mm(32)}, "32 mm for a profile up to 34 mm"),
    ([(0, 10), (20, 12)], {"side": "inside", "stock": mm(11)}, "11 mm for a profile from 10 mm"),
    ([(0, 30), (20, 30)], {"fillets": {1: mm(1)}}, "point 1 is an end of the profile"),
    ([(0, 30), (20, 30), (40, 30)], {"chamfers": {1: mm(1)}}, "point 1 is no corner"),
    ([(0, 30), (20, 30), (20, 28), (40, 28)], {"fillets": {2: mm(3)}}, "is shorter than its corners need"),
    ([(0, 30), (20, 30), (20, 20), (40, 20)], {"fillets": {1: mm(1)}, "chamfers": {1: mm(1)}}, "both at point 1"),
    ([(0, 30), (20, 30)], {"grooves": Groove(mm(18), mm(3), mm(20))}, "leaves the profile"),
    ([(0, 30), (20, 30)], {"grooves": Groove(mm(5), mm(3), mm(30))}, "is no lower than what it is cut into"),
    ([(0, 12), (20, 12)], {**BORE, "grooves": Groove(mm(5), mm(3), mm(12))}, "is no deeper than"),
    ([(0, 30), (20, 30)], {"grooves": [Groove(mm(5), mm(3), mm(20)), Groove(mm(7), mm(3), mm(20))]}, "run into each"),
])  # fmt: skip
def test_an_impossible_profile_says_where(points, more, said):
    with pytest.raises(LatheworksError, match=said):
        profile(points, **more)


@pytest.mark.parametrize(("make", "kind", "said"), [
    (lambda: tool("S", 95), Impossible, "the back of the insert rubs"),
    (lambda: tool("Q"), NotInTable, "one of A B C D"),
    (lambda: tool("D", reach=0.3), Impossible, "more than the nose radius"),
    (lambda: TurningTool(), LatheworksError, "insert or blade_width: got neither"),
    (lambda: tool("D", blade_width=3), LatheworksError, "insert or blade_width: got both"),
    (lambda: tool("R", 93), LatheworksError, "none for a blade or a round insert"),
    (lambda: tool("R", None, 0.0), Impossible, "half of its diameter"),
    (lambda: tool("D", 93, hand="neutral"), Impossible, "62.5 degrees, the same on both sides"),
    (lambda: blade(2, nose=1.5), OutOfRange, "nose_radius"),
    (lambda: Groove(mm(0), mm(3), mm(9), 201, mm(9)), OutOfRange, "count"),
    (lambda: Groove(mm(0), mm(3), mm(9), 2), Impossible, "so that a wall stays"),
    (lambda: Profile.along(Q_(np.arange(6000.0), "mm"), Q_(np.ones(6000), "mm")), OutOfRange, "6000"),
    (lambda: reach(profile([(0, 20), (9, 20)]), tool("D", bar_length=60)), Impossible, "on a bar"),
    (lambda: reach(profile([(0, 20), (9, 20)], side="inside"), tool("D")), Impossible, "on a shank"),
    (lambda: reach(profile([(0, 20), (9, 20)], side="inside"), tool("D", bar_length=60), jaws=(mm(0), mm(60))),
     LatheworksError, "jaws and center"),
    (lambda: split(profile([(0, 20), (9, 20)]), [tool("D")], Q_(60, "m/min"), Q_(0.1, "mm/rev"), mm(1)), Impossible,
     "reach nothing"),
    (lambda: split(profile([(0, 20), (9, 20)], stock=mm(22)), [blade(2)], Q_(60, "m/min"), Q_(0.1, "mm/rev"), mm(3)),
     Impossible, "no more than the blade"),
])  # fmt: skip
def test_a_tool_that_fits_nowhere_says_why(make, kind, said):
    with pytest.raises(kind, match=said):
        make()


def test_a_bad_point_is_named():
    with pytest.raises(LatheworksError, match="diameter of point 1"):
        Profile([(mm(0), mm(30)), (mm(20), 30), (mm(40), mm(30))])
