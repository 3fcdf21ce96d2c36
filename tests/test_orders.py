"""Orders of work against every order tried by hand, on a small part; and what holds for any part."""

import multiprocessing
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace

import pytest

from latheworks import Span
from latheworks.errors import LatheworksError
from latheworks.plan import Plan, Setup, barrel_plan, corer_barrel, cutting_shoe, orders, review, shoe_plan
from latheworks.plan.assemble import assemble
from latheworks.plan.charge import RATES
from latheworks.plan.job import job_of
from latheworks.plan.search import Search
from latheworks.plan.space import space_of_part, space_of_plan
from latheworks.plan.steps import Steps
from latheworks.units import Q_
from tests.order_parts import by_hand, every_plan, measures, mm, stub, stub_plan

HEAT = 0.002  # of a tolerance, that heat told apart to a quarter of a kelvin may hide


@pytest.fixture(scope="module")
def tried():
    """The measures of every plan of the stub."""
    return [measures(plan) for plan in every_plan()]


@pytest.fixture(scope="module")
def barrel():
    """The orders of the barrel."""
    return orders(corer_barrel(), most_plans=100)


def found_measures(found):
    return [(one.stops, one.time.m_as("min"), one.cost, one.worst_use) for one in found.plans]


def no_worse(one, other, slack=HEAT):
    return one[0] <= other[0] and one[1] <= other[1] + 1e-6 and one[2] <= other[2] + 1e-6 and one[3] <= other[3] + slack


def test_every_order_tried_is_met_or_beaten(tried):
    found = found_measures(orders(stub_plan(), most_plans=100))
    assert len(tried) == 630
    for each in tried:
        assert any(no_worse(one, each) for one in found), each


def test_nothing_is_found_that_cannot_be_tried(tried):
    for one in found_measures(orders(stub_plan(), most_plans=100)):
        assert any(no_worse(each, one, 1e-9) and no_worse(one, each, 1e-9) for each in tried), one


def test_none_of_the_plans_beats_another(barrel):
    found = found_measures(barrel)
    assert barrel.exact
    assert len(found) > 1
    for i, one in enumerate(found):
        assert not any(no_worse(other, one, -1e-9) for k, other in enumerate(found) if k != i)


@pytest.mark.parametrize("plan", [barrel_plan(), stub_plan()], ids=["barrel", "stub"])
def test_never_worse_than_the_plan_it_is_given(plan):
    found = found_measures(orders(plan))
    assert any(no_worse(one, measures(plan)) for one in found)


def test_the_proposed_space_beats_the_hand_written_plan(barrel):
    assert any(no_worse(one, measures(barrel_plan())) for one in found_measures(barrel))
    assert all(one.stops == 0 for one in barrel.plans)
    assert all(review(one.plan).verdict != "stop" for one in barrel.plans)


@pytest.mark.parametrize("what", [barrel_plan(), shoe_plan(), corer_barrel(), cutting_shoe()],
                         ids=["barrel", "shoe", "barrel, proposed", "shoe, proposed"])  # fmt: skip
def test_what_the_search_reckons_is_what_the_review_says(what):
    plan = what if isinstance(what, Plan) else None
    part = what.part if plan else what
    shop = barrel_plan()
    job = job_of(part, shop.machine, shop.tools)
    space = space_of_plan(job, plan) if plan else space_of_part(job)
    steps = Steps(space, RATES.hourly)
    search = Search(space, steps, job.density * part.stock.volume() * RATES.stock)
    search.run(8)
    assert search.front
    for reckoned, _, trail in search.front:
        said = review(assemble(steps, trail, part, shop.machine, shop.tools))
        assert said.time.m_as("min") == pytest.approx(reckoned[1], abs=1e-6)
        assert said.cost == pytest.approx(reckoned[2], abs=1e-6)
        assert said.worst_use == pytest.approx(reckoned[3], abs=HEAT)


@pytest.mark.parametrize("pool", ["threads", "processes", "fresh processes"])
def test_any_executor_finds_the_same(pool):
    kind = multiprocessing.get_context("spawn") if pool == "fresh processes" else None
    executor = ThreadPoolExecutor(2) if pool == "threads" else ProcessPoolExecutor(2, mp_context=kind)
    alone = orders(stub_plan())
    with executor:
        shared = orders(stub_plan(), executor=executor)
    assert [one.plan.setups for one in shared.plans] == [one.plan.setups for one in alone.plans]
    assert found_measures(shared) == found_measures(alone)
    assert shared.exact == alone.exact


def test_a_dask_cluster_finds_the_same():
    """A small cluster on this machine's loopback."""
    import distributed  # late: it takes seconds, and the other tests do without

    alone = orders(stub_plan())
    near = {"host": "127.0.0.1", "dashboard_address": None, "silence_logs": 50}
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, **near) as cluster,
        distributed.Client(cluster) as client,
        client.get_executor() as pool,
    ):
        shared = orders(stub_plan(), executor=pool)
    assert [one.plan.setups for one in shared.plans] == [one.plan.setups for one in alone.plans]
    assert found_measures(shared) == found_measures(alone)


def test_progress_grows_to_one_and_a_bar_is_text(capsys):
    seen = []
    orders(stub_plan(), progress=seen.append)
    assert len(seen) > 5
    assert seen == sorted(seen)
    assert seen[-1] == 1.0
    orders(stub_plan(), progress=True)
    said = capsys.readouterr()
    assert said.out == ""
    assert "100 %" in said.err


def test_cut_off_it_says_so_and_gives_what_it_has():
    found = orders(corer_barrel(), limit=Q_(0.3, "s"))
    assert not found.exact
    assert any("cut off" in note for note in found.notes)
    assert found.least_time <= min((one.time for one in found.plans), default=Q_(1e9, "min"))


def test_no_plan_takes_less_than_the_bound(barrel):
    assert 0.0 < barrel.least_time.m_as("min") < barrel.quickest.time.m_as("min")


def test_a_tolerance_nobody_holds_leaves_plans_with_stops_and_says_so():
    hard = orders(Plan(stub(0.004), stub_plan().setups))
    assert hard.plans
    assert all(one.stops > 0 and one.worst_use > 1.0 for one in hard.plans)
    assert any("stops" in note for note in hard.notes)


def test_a_plan_with_a_stop_is_beaten_by_any_without(barrel):
    assert {one.stops for one in barrel.plans} == {0}
    nose = replace(corer_barrel().feature("nose"), limits=Span(mm(29.98), mm(30)))
    features = tuple(nose if each.name == "nose" else each for each in corer_barrel().features)
    found = orders(replace(corer_barrel(), features=features), limit=Q_(5, "s"))
    assert found.plans
    assert all(one.stops > 0 for one in found.plans)


def test_what_a_person_puts_first_comes_first():
    names = ("drill hole end B", "rough turn nose end B")
    for pair in (names, names[::-1]):
        for one in orders(stub_plan(), before=[pair]).plans:
            titles = [f"{each.title()} end B" for setup in one.plan.setups for each in setup.operations]
            assert titles.index(pair[0]) < titles.index(pair[1])


def test_a_ring_is_named():
    with pytest.raises(LatheworksError, match=r"has a ring: .*turn nose end B before .*turn nose end B before"):
        orders(stub_plan(), before=[("turn nose end B", "rough turn nose end B")])


def test_an_unknown_title_gets_the_nearest():
    with pytest.raises(LatheworksError, match="turn nose end B"):
        orders(stub_plan(), before=[("turn nos end B", "face B end B")])


def test_what_is_to_be_avoided_is_avoided():
    part = stub()
    plan = Plan(part, [Setup("far", "A", mm(56), stop=True, operations=stub_plan().setups[0].operations),
                       *stub_plan().setups])  # fmt: skip
    codes = {"short grip"}
    found = orders(plan, avoid=sorted(codes), most_setups=2)
    assert found.plans
    assert not any(each.code in codes for one in found.plans for each in one.review.findings)


def test_by_hand_work_is_that_of_the_test_parts():
    found = orders(stub_plan()).plans[0].plan
    made = [name for setup in found.setups for one in setup.operations if one.kind == "gage" for name in one.features]
    assert sorted(made) == sorted(by_hand(["nose", "notch", "hole"])[-1].features)
