"""The pieces of the search: fronts, bounds, and what makes two unfinished plans alike."""

from random import Random
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.plan import corer_barrel, cutting_shoe
from latheworks.plan.charge import RATES
from latheworks.plan.job import job_of
from latheworks.plan.labels import Label, beats, dominates, merge, settled, surely_worse
from latheworks.plan.search import Search
from latheworks.plan.space import space_of_part
from latheworks.plan.steps import Steps
from latheworks.shop import lathe, rack

MEASURES = st.tuples(st.integers(0, 1), *[st.integers(0, 3).map(float)] * 3)


def search_of(part):
    space = space_of_part(job_of(part, lathe(), rack()))
    return Search(space, Steps(space, RATES.hourly), 0.0)


@given(st.lists(st.tuples(MEASURES, st.integers(0, 9)), max_size=12), st.integers(0, 99))
@settings(max_examples=200, deadline=None)
def test_a_front_is_the_same_in_whatever_order_it_is_filled(items, seed):
    one, other, mixed = [], [], list(items)
    Random(seed).shuffle(mixed)
    for item in items:
        merge(one, item)
    for item in mixed:
        merge(other, item)
    assert sorted(one) == sorted(other)

    # By hand: those that nothing is at least as good as in everything and better in something.
    def worse(item, by):
        if item[0][0] != by[0][0]:
            return by[0][0] < item[0][0]
        return by[0] != item[0] and all(b <= a for a, b in zip(item[0][1:], by[0][1:], strict=True))

    best = {item[0] for item in items if not any(worse(item, each) for each in items)}
    assert {item[0] for item in one} == best
    assert all(tie == min(t for m, t in items if m == measures) for measures, tie in one)


def test_stops_count_before_all_else_and_a_size_that_would_not_hold_is_one():
    assert dominates((0, 9.0, 9.0, 0.9), (1, 1.0, 1.0, 0.1))
    assert settled((0, 1.0, 1.0, 1.01)) == (1, 1.0, 1.0, 1.01)
    assert settled((0, 1.0, 1.0, 1.0)) == (0, 1.0, 1.0, 1.0)
    # What is only as good is not worse: the smaller trail among equals has to be met.
    assert not surely_worse((0, 1.0, 1.0, 0.5), [(0, 1.0, 1.0, 0.5)], [])
    assert surely_worse((0, 1.0, 1.0, 0.5), [], [((0, 1.0, 0.9, 0.5), 0, ())])


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=["barrel", "shoe"])
def test_no_operation_takes_less_than_its_bound(part):
    search = search_of(part)
    search.run(24)
    moves = search.steps.moves
    assert len(moves) > 100
    for (_, _, task, _), move in moves.items():
        assert move.minutes >= search.space.least[task] - 1e-9, search.space.tasks[task].title
    # And it is worth having: half of the minutes in the cut are known from the start.
    assert sum(search.space.least) > 2.0


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=["barrel", "shoe"])
def test_nothing_on_the_way_to_a_plan_promises_more_than_it_keeps(part):
    search = search_of(part)
    kept = []
    search._keep, plain = lambda buckets, label: (kept.append(label), plain(buckets, label))[1], search._keep
    search.run(12)
    best = {}
    for label in kept:
        if label.done == search.space.full:
            one = label
            while one is not None:
                best[id(one)] = min(best.get(id(one), 1e9), label.measures[1])
                one = one.parent
    on_the_way = [label for label in kept if id(label) in best]
    assert len(on_the_way) > 50
    for label in on_the_way:
        assert search._at_best(label)[1] <= best[id(label)] + 1e-9


def test_how_the_work_was_held_since_tells_plans_apart_while_a_size_hangs_on_it():
    search = search_of(corer_barrel())
    half = {"nose": SimpleNamespace(setup=0, warm=0.0)}

    def label(helds, marks):
        return Label(7, 0, helds, 0, None, 0.0, (0, 1.0, 1.0, 0.5), marks, None, None, None)

    assert ("socket", "nose", "runout") in search.steps.partners
    assert search._key(label((0, 1, 2), half)) != search._key(label((0, 3, 2), half))
    assert search._key(label((0, 1, 2), {})) == search._key(label((0, 3, 2), {}))


def test_a_run_out_is_that_of_the_holding_that_it_was_put_in_since():
    search = search_of(cutting_shoe())
    search.run(24)
    found = {(key[3], round(use, 3)) for key, use in search.steps.pairs.items() if key[1] == "runout"}
    uses = {len(since): {use for other, use in found if len(other) == len(since)} for since, _ in found}
    assert len(uses[0]) == 1  # in one setup only the spindle counts
    assert len(uses[1]) > 1  # soft jaws and hard ones
    assert min(uses[1]) > max(uses[0])


def test_of_equals_the_one_that_goes_less_from_feature_to_feature_stays():
    def label(turns, minutes=1.0):
        return Label(7, 0, (0,), 0, None, 0.0, (0, minutes, 1.0, 0.5), {}, None, None, None, turns)

    assert beats(label(2), label(3))
    assert not beats(label(3), label(2))
    assert beats(label(3, 0.5), label(2))


def test_the_fewest_setups_of_the_barrel_are_two():
    search = search_of(corer_barrel())
    assert search.space.fewest(search.space.full) == 2
    assert search.space.most_setups == 3
    assert search.space.fewest(0) == 0
