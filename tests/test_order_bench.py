"""The order bench: the trade that is drawn is what the review of that very plan says."""

import pytest

from latheworks.errors import LatheworksError
from latheworks.plan import (
    barrel_plan,
    change_operation,
    change_setup,
    find_operation,
    late_thread_plan,
    review,
)
from latheworks.units import Q_, U
from latheworks.widgets import display_system, order_bench
from latheworks.widgets.ordering import CLOSE, ORDERS
from tests.benches import SYSTEMS

pytestmark = pytest.mark.usefixtures("benches")


def expected(order, out, springs, zero=0.05):
    """The same by hand: the plan changed, and reviewed."""
    plan = barrel_plan() if order == ORDERS[0] else late_thread_plan()
    place = find_operation(plan, "thread", "socket thread")
    plan = change_operation(change_setup(plan, place[0], stickout=Q_(out, "mm")), *place, spring_passes=springs)
    for i in range(1, len(plan.setups) + 1):
        plan = change_setup(plan, i, zero_error=Q_(zero, "mm"))
    return review(plan)


@SYSTEMS
@pytest.mark.parametrize(("order", "out", "springs", "zero"), [
    (ORDERS[0], 70.0, 2, 0.05), (ORDERS[0], 200.0, 0, 0.05), (ORDERS[1], 150.0, 3, 0.2),
    (ORDERS[1], 45.0, 0, 0.0)])  # fmt: skip
def test_numbers_are_those_of_the_review(system, order, out, springs, zero):
    display_system.system = system
    bench = order_bench()
    bench.set(order=order, out=Q_(out, "mm"), springs=springs, zero=Q_(zero, "mm"))
    found = expected(order, out, springs, zero)
    worst = max(row.use for row in found.sizes if row.name in CLOSE and row.use is not None)
    assert bench.picture_data.use == pytest.approx(worst)
    (x,), (y,) = bench.picture.here.get_data()
    assert (x, y) == pytest.approx((found.time.m_as(U.min), 100 * worst))
    facts = dict(bench.reading.facts)
    assert facts["of its tolerance"] == f"{100 * worst:.0f} %"
    assert facts["time of one part"] == f"{found.time.m_as(U.min):.1f} min"
    assert facts["cost of one part"] == f"{found.cost:.2f} money"
    assert f"{100 * found.worst_use:.0f} %" in facts["most of all sizes"]
    assert bench.picture_data.line.steps[bench.picture_data.at - 1].kind == "thread"
    assert f"{100 * worst:.0f} %" in bench.alt


def test_the_trade_comes_out_of_the_numbers():
    bench = order_bench(out=Q_(200, "mm"))
    use, line = bench.picture_data.use, bench.picture_data.line
    bench.set(order=ORDERS[1])
    # The finished tube gives way more, and the setup more takes its time.
    assert bench.picture_data.use > 1.2 * use
    assert bench.picture_data.line.minutes > line.minutes + 5
    bench.set(order=ORDERS[0], springs=0)
    assert bench.picture_data.use > use
    assert bench.picture_data.line.minutes < line.minutes
    # Deeper in the jaws: stiffer, at no cost.
    bench.set(out=Q_(60, "mm"))
    assert bench.picture_data.use < use
    nose = {each.title: each.use for each in bench.picture_data.line.sizes}
    bench.set(zero=Q_(0.25, "mm"))
    later = {each.title: each.use for each in bench.picture_data.line.sizes}
    assert later["nose, length"] > 2 * nose["nose, length"]
    assert later["socket thread, pitch \u2300"] == pytest.approx(nose["socket thread, pitch \u2300"])


def test_too_deep_in_the_jaws_is_said():
    bench = order_bench()
    bench.enter("out", "20 mm")
    assert not bench.reading.good
    assert "nose" in bench.reading_text
    assert "nan" not in bench.reading_text
    bench.enter("out", "15 mm")
    assert "Type" in bench.error


@pytest.mark.parametrize("wrong", [{"order": "whenever"}, {"out": Q_(1, "mm")}, {"out": 70}, {"springs": 1.5},
                                   {"springs": 21}, {"zero": Q_(-1, "mm")}, {"zero": Q_(1, "N")}])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        order_bench(**wrong)
