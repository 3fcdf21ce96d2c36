"""What has to come before what: the table's rows, edges between operations, and rings, beside the standard library."""

from graphlib import CycleError, TopologicalSorter
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latheworks.plan import corer_barrel, cutting_shoe
from latheworks.plan.job import job_of
from latheworks.plan.precedence import SCOPES, Node, cycle, edges, masks, named, role_of, rules, touch
from latheworks.plan.propose import tasks_of
from latheworks.shop import lathe, rack
from latheworks.tables import table

ROLES = {
    role_of(kind, inside, roughs, pilots)
    for kind, inside, roughs, pilots in product(
        ("face", "turn", "bore", "groove", "chamfer", "thread", "drill", "ream", "center drill", "part off", "gage",
         "deburr"), (False, True), (False, True), (False, True))
}  # fmt: skip


def nodes_of(part):
    job = job_of(part, lathe(), rack())
    return [Node(t.role, t.features, t.ends) for t in tasks_of(job)], [t.title for t in tasks_of(job)], job


def test_every_row_of_the_table_means_something():
    for row in table("precedence"):
        assert {row["before"], row["after"]} <= ROLES, dict(row)
        assert row["where"] in SCOPES
        assert row["strength"] in ("must", "usual")
        assert row["why"]
    assert len(rules(True)) + len(rules(False)) == len(table("precedence"))


def test_no_rule_decides_where_a_number_can():
    # The thin wall last, rough before all last cuts, a groove before the last cut: usual, and left to the search.
    assert any(rule.after == "bore" and rule.before == "rough turn" for rule in rules(False))
    assert not any(rule.after == "bore" and rule.before == "rough turn" for rule in rules(True))


def test_the_fifteen_edges_of_the_barrel():
    nodes, titles, job = nodes_of(corer_barrel())
    pairs = {(titles[e.before], titles[e.after]) for e in edges(nodes, job.features)}
    for before, after in [
        ("face face B", "center drill end B"), ("center drill end B", "pilot drill end B"),
        ("pilot drill end B", "drill end B"), ("drill end B", "rough bore socket"),
        ("rough bore socket", "bore socket"), ("bore socket", "groove thread relief"),
        ("groove thread relief", "chamfer thread chamfer"), ("chamfer thread chamfer", "thread socket thread"),
        ("groove thread relief", "thread socket thread"), ("rough turn nose", "turn nose"),
        ("turn nose", "chamfer edge B"), ("rough turn body", "groove grip grooves"),
        ("face face A", "turn body"), ("bore socket", "thread socket thread"), ("turn body", "chamfer edge A"),
    ]:  # fmt: skip
        assert (before, after) in pairs, (before, after)
    # And what must not bind: one end on the other, the outside on the inside.
    assert not any(("end A" in one and "end B" in other) for one, other in pairs)
    assert ("turn nose", "drill end B") not in pairs
    assert ("turn body", "groove grip grooves") not in pairs


def test_an_operation_for_either_end_is_bound_at_its_own():
    nodes, titles, job = nodes_of(cutting_shoe())
    needs = masks(len(nodes), edges(nodes, job.features))
    collar, face_a, face_b = (titles.index(name) for name in ("turn collar", "face face A", "face face B"))
    assert needs[collar]["A"] >> face_a & 1
    assert not needs[collar]["A"] >> face_b & 1
    assert needs[collar]["B"] >> face_b & 1


@given(st.integers(2, 9), st.data())
@settings(max_examples=200, deadline=None)
def test_rings_as_the_standard_library_finds_them(count, data):
    place = st.integers(0, count - 1)
    pairs = data.draw(st.lists(st.tuples(place, place).filter(lambda pair: pair[0] != pair[1]), max_size=20))
    sorter = TopologicalSorter({i: {a for a, b in pairs if b == i} for i in range(count)})
    ring = cycle(count, pairs)
    try:
        sorter.prepare()
    except CycleError:
        assert ring is not None
        assert all((one, other) in pairs for one, other in zip(ring, ring[1:] + ring[:1], strict=True))
        assert len(set(ring)) == len(ring)
    else:
        assert ring is None


def test_a_ring_is_said_in_words():
    assert named([0, 1], ["bore", "face"]) == "bore before face before bore"


@pytest.mark.parametrize("part", [corer_barrel(), cutting_shoe()], ids=["barrel", "shoe"])
def test_what_is_proposed_has_no_ring(part):
    nodes, _, job = nodes_of(part)
    assert cycle(len(nodes), [(e.before, e.after) for e in edges(nodes, job.features)]) is None


def test_features_touch_that_lie_on_or_beside_each_other():
    by_name = {each.name: each.plain for each in corer_barrel().features}
    assert touch(by_name["socket thread"], by_name["thread relief"])
    assert not touch(by_name["socket"], by_name["nose"])  # one inside, one outside
    assert not touch(by_name["edge A"], by_name["nose"])
