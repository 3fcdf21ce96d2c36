"""What each operation costs: the sum is the review's, and rates act as they should."""

from dataclasses import replace

import pytest

from latheworks.cutting import economic_speed
from latheworks.errors import LatheworksError
from latheworks.plan import barrel_plan, costs, piece_cost, review, shoe_plan
from latheworks.plan.economics import usual_rates
from latheworks.tables import table
from latheworks.units import Q_


@pytest.mark.parametrize("plan", [barrel_plan(), shoe_plan()], ids=["barrel", "shoe"])
def test_the_rows_add_up_to_what_the_review_says(plan):
    found, said = costs(plan), review(plan)
    assert found.time.m_as("min") == pytest.approx(said.time.m_as("min"), rel=1e-12)
    assert found.cost == pytest.approx(said.cost, rel=1e-12)
    assert sum(row.time.m_as("min") for row in found.rows) == pytest.approx(found.time.m_as("min"))
    assert found.stock + sum(row.cost for row in found.rows) == pytest.approx(found.cost)
    assert sum(row.operation is not None for row in found.rows) == plan.operations


def test_a_place_in_the_plan_is_said_in_words_and_alike():
    """So that no operation's number is taken for a decimal: 1 and 120 are no 1.12."""
    for plan in (barrel_plan(), shoe_plan()):
        said = [row.what for row in costs(plan).rows if row.operation is not None]
        assert said == [row.title() for row in review(plan).operations]
        places = [(i, 10 * k) for i, setup in enumerate(plan.setups, 1) for k in range(1, len(setup.operations) + 1)]
        starts = [f"setup {i}, operation {k}: " for i, k in places]
        assert all(text.startswith(start) for text, start in zip(said, starts, strict=True))
    assert review(barrel_plan()).operations[11].title() == "setup 1, operation 120: thread socket thread"


def test_labor_is_time_at_the_rates_by_hand():
    found = costs(barrel_plan(), lathe_rate=30, labor_rate=60, stock_price=0)
    wear = sum(row.edge_wear for row in found.rows)
    assert found.stock == 0
    assert found.cost == pytest.approx(found.time.m_as("min") * 1.5 + wear)
    free = costs(barrel_plan(), lathe_rate=0, labor_rate=0, stock_price=0)
    assert free.time == found.time
    assert free.cost == pytest.approx(sum(row.edge_wear for row in free.rows))


def test_stock_is_its_weight_by_hand():
    # 254 mm of 35 mm bar of aluminum, 2.70 g/cm^3, 8 a kilogram.
    kilograms = 3.14159265 / 4 * 3.5**2 * 25.4 * 2.70e-3
    assert costs(barrel_plan()).stock == pytest.approx(8 * kilograms, rel=2e-3)


def test_a_batch_shares_the_setting_up():
    one, ten = (costs(replace(barrel_plan(), part=replace(barrel_plan().part, quantity=count))) for count in (1, 10))
    saved = one.time.m_as("min") - ten.time.m_as("min")
    assert saved == pytest.approx(3 * 10.0 * 0.9)  # three setups of ten minutes each


def test_speeds_are_those_of_the_edge():
    rows = [row for row in costs(shoe_plan()).rows if row.least_cost is not None]
    assert len(rows) > 10
    turned = next(row for row in rows if "turn collar" in row.what)
    best = economic_speed("carbide on steel", Q_(2, "min"), 4.0, usual_rates().hourly)
    assert turned.least_cost.m_as("m/min") == pytest.approx(best.least_cost.m_as("m/min"))
    assert all(row.least_cost < row.highest_rate for row in rows)


def test_the_least_cost_speed_costs_least_of_all_near_it():
    """By the cycle of the textbook, which knows nothing of where the best speed lies."""
    best = economic_speed("carbide on steel", Q_(2, "min"), 4.0, 60.0)

    def cost(speed):
        life = (500.0 / speed) ** 4  # carbide on steel: n 0.25, C 500
        return piece_cost(Q_(300.0 / speed, "min"), Q_(life, "min"), Q_(2, "min"), 4.0, 60.0, whole_edges=False).cost

    v = best.least_cost.m_as("m/min")
    assert cost(v) < min(cost(0.98 * v), cost(1.02 * v))


def test_rates_are_invented_and_say_so():
    assert {row["source"] for row in table("shop_rates")} == {"teaching_rates"}
    assert usual_rates().hourly == 60.0
    assert any("invented" in value for _, value in costs(barrel_plan()).rates)


def test_an_edge_that_does_not_last_for_a_piece_is_refused_unless_shared():
    bad = {"cutting_time": Q_(30, "min"), "edge_life": Q_(20, "min"), "change_time": Q_(2, "min"), "edge_cost": 3.0,
           "hourly_rate": 60.0}  # fmt: skip
    with pytest.raises(LatheworksError, match="edge_life"):
        piece_cost(**bad)
    shared = piece_cost(**bad, whole_edges=False)
    assert shared.pieces_per_edge == pytest.approx(2 / 3)
    assert shared.time.m_as("min") == pytest.approx(30 + 2 * 1.5)


def test_results_show_themselves():
    found = costs(barrel_plan())
    assert len(found.to_frame()) == len(found.rows)
    assert "turn nose" in found._repr_html_()
    piece = piece_cost(Q_(5, "min"), Q_(60, "min"), Q_(2, "min"), 3.0, 60.0)
    assert piece.working.text().count("\n") >= 2
    assert sum(piece.to_frame()["cost [money]"]) == pytest.approx(piece.cost)
