"""What a feature costs, and what another drawing of it would save."""

from dataclasses import replace

import pytest

from latheworks.errors import LatheworksError
from latheworks.plan import barrel_plan, costs, price_of, review, shoe_plan
from latheworks.plan.price import without
from latheworks.units import Q_


def redesign(found, what):
    return next(each for each in found.redesigns if each.what == what)


def test_a_price_is_the_time_of_its_operations_and_changes_of_tool():
    plan = barrel_plan()
    rows = {row.what: row.time.m_as("min") for row in costs(plan).rows}
    # The groove, the change to the blade and, as two operations share one line, half of a deburring and a gaging.
    own = rows["setup 3, operation 20: groove grip grooves"] + rows["to the 3 mm grooving tool"] + 0.5 + 0.5
    assert price_of(plan, "grip grooves").time.m_as("min") == pytest.approx(own)


@pytest.mark.parametrize("name", [each.name for each in barrel_plan().part.features])
def test_every_feature_of_the_barrel_costs_something(name):
    found = price_of(barrel_plan(), name)
    assert found.cost > 0
    assert found.time.m_as("min") > 0
    assert found.operations
    assert found.cost < found.with_it.cost


def test_the_plan_itself_is_left_alone():
    plan = barrel_plan()
    before = review(plan).cost
    price_of(plan, "body")
    assert plan == barrel_plan()
    assert review(plan).cost == before


def test_what_is_dropped_names_the_feature_nowhere():
    bare = without(barrel_plan(), "socket thread")
    assert all("socket thread" not in one.features for setup in bare.setups for one in setup.operations)
    assert "socket thread" not in [each.name for each in bare.part.features]
    # A surface that others lie on cannot be drawn without: the part stays, the work is dropped.
    assert "body" in [each.name for each in without(barrel_plan(), "body").part.features]


def test_what_hangs_on_a_socket_is_named():
    assert set(price_of(barrel_plan(), "socket").hangs_on_it) >= {"socket thread", "thread relief", "thread chamfer"}


def test_twice_the_tolerance_uses_half_and_costs_the_same():
    found = price_of(barrel_plan(), "nose")
    row = redesign(found, "2 times the tolerance")
    assert row.after.use == pytest.approx(row.before.use / 2, rel=0.02)
    assert row.saved == pytest.approx(0)
    bare = redesign(found, "2 times the tolerance, no spring pass")
    assert bare.saved > 0
    assert row.after.use < bare.after.use < row.before.use


def test_a_saving_is_said_in_words_that_fit_its_sign_and_its_count():
    nose, relief = price_of(barrel_plan(), "nose"), price_of(barrel_plan(), "thread relief")
    assert redesign(nose, "2 times the tolerance").saving == "saves nothing"
    bare = redesign(nose, "2 times the tolerance, no spring pass")
    assert bare.saving == f"saves {bare.saved:.2f} money"
    coarse = redesign(price_of(barrel_plan(), "socket thread"), "a standard thread, coarser")
    assert coarse.saving == f"costs {-coarse.saved:.2f} money more"
    assert coarse.after.findings == "1 stop, 0 cautions"
    assert redesign(relief, "a groove as wide as the blade").after.findings == "0 stops, 1 caution"
    assert "operations dropped  " in str(relief)
    assert "setup 1, operation 100: groove thread relief" in str(relief)


def test_a_groove_as_wide_as_its_blade_takes_one_plunge():
    found = price_of(barrel_plan(), "grip grooves")
    row = redesign(found, "a groove as wide as the blade")
    assert row.plan.part.feature("grip grooves").plain.end == pytest.approx(18.0)
    groove = next(each for each in costs(barrel_plan()).rows if "groove grip" in each.what).time.m_as("min")
    assert row.saved == pytest.approx(groove * 2 / 3, rel=0.01)  # one plunge in the place of three


def test_a_coarser_thread_is_the_standard_one_and_what_it_asks_of_the_tool_is_found():
    row = redesign(price_of(shoe_plan(), "screw thread"), "a standard thread, coarser")
    assert row.plan.part.feature("screw thread").designation == "1-8 UNC-2A"
    assert row.after.stops == 1  # the threading tool of the rack ends at 3 mm of pitch
    assert any(each.code == "tool not for this pitch" for each in review(row.plan).findings)
    assert row.saved < 0


def test_the_coarse_thread_of_a_size_has_none_coarser():
    plan = redesign(price_of(shoe_plan(), "screw thread"), "a standard thread, coarser").plan
    row = redesign(price_of(plan, "screw thread"), "a standard thread, coarser")
    assert row.after is None
    assert "coarse thread" in row.why


@pytest.mark.parametrize(("plan", "relief", "thread"), [
    (barrel_plan(), "thread relief", "socket thread"), (shoe_plan(), "screw relief", "screw thread"),
])  # fmt: skip
def test_a_relief_takes_the_place_of_running_out_into_material(plan, relief, thread):
    bare = without(plan, relief)
    assert any(each.code == "no room to run out" for each in review(bare).findings)
    row = redesign(price_of(bare, thread), "a relief for the thread")
    assert not any(each.code == "no room to run out" for each in review(row.plan).findings)
    assert row.after.stops == 0
    assert row.saved < 0  # it costs a groove
    assert not any(each.what == "a relief for the thread" for each in price_of(plan, thread).redesigns)


def test_a_shorter_body_takes_less_stock_and_time_and_stays_a_part():
    row = redesign(price_of(barrel_plan(), "body"), "shorter by 20 %")
    assert row.plan.part.length.m_as("mm") == pytest.approx(250 - 0.2 * 215)
    assert row.plan.part.stock_length.m_as("mm") == pytest.approx(254 - 0.2 * 215)
    assert row.plan.part.feature("nose").plain.length_low == pytest.approx(214.8 - 43)
    assert row.after.stops == 0
    assert row.saved > 3
    # The end that nothing was taken from is held as before.
    assert row.plan.setups[0].stickout == barrel_plan().setups[0].stickout
    assert row.plan.setups[2].stickout.m_as("mm") == pytest.approx(218 - 43)


def test_rates_scale_the_price():
    plain = price_of(barrel_plan(), "nose", lathe_rate=0, labor_rate=60, stock_price=8)
    double = price_of(barrel_plan(), "nose", lathe_rate=60, labor_rate=60, stock_price=8)
    assert double.cost > 1.9 * plain.cost
    assert double.time == plain.time


def test_an_unknown_feature_gets_the_names_there_are():
    with pytest.raises(LatheworksError, match="nose"):
        price_of(barrel_plan(), "noze")


def test_a_plan_with_stops_is_priced_all_the_same():
    plan = barrel_plan()
    first = replace(plan.setups[0], stickout=Q_(20, "mm"))
    found = price_of(replace(plan, setups=(first, *plan.setups[1:])), "nose")
    assert found.with_it.stops > 0
    assert found.to_frame().shape[0] == len(found.redesigns)
    assert "price of nose" in found._repr_html_()
