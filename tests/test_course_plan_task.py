"""A plan that is handed in: what passes, what is refused, what it earns, and how it is kept and shown."""

import json
import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from latheworks.course import AnswerBook, Kept, check, feedback, score, solution, worth
from latheworks.course.answer_file import LONGEST_PLAN, Damaged, clean_answer
from latheworks.course.check_plan import FACTS, share_of
from latheworks.course.score import points
from latheworks.course.tasks import Number, Outcome
from latheworks.plan import Plan, read_plan, review, write_plan
from latheworks.shop import lathe, rack
from latheworks.units import Q_, Span, U
from latheworks.widgets.exercise import Exercise
from tests.grade_class import find, good_plan, taught


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


@pytest.fixture(scope="module")
def task():
    return find("x9.hand_in", "ana-7", group="")


def test_a_good_plan_passes_by_the_review_and_the_feedback_says_what_uses_how_much(task):
    plan = solution(task)
    outcome = check(task, plan)
    found = review(plan)
    assert outcome.right is True
    assert not found.of("stop")
    assert outcome.share == 1.0 - 0.25 * min(len(found.of("caution")), 10) / 10
    assert score(task, plan) == round(worth(task) * outcome.share, 1)
    used = max(found.sizes, key=lambda row: row.use or 0.0)
    assert f"{used.title()}: uses {100 * used.use:.0f} % of its tolerance" in outcome.lines
    assert f"{100 * used.use:.0f} %" in outcome.sentence
    assert "safe" not in outcome.sentence.lower()
    assert check(task, write_plan(plan)) == check(task, {"plan": write_plan(plan)}) == outcome


def test_a_plan_with_a_stop_does_not_pass_and_the_stop_is_named(task):
    plan = solution(task)
    less = replace(plan, setups=(replace(plan.setups[0], operations=plan.setups[0].operations[:4]), plan.setups[1]))
    outcome, found = check(task, less), review(less)
    first = found.of("stop")[0]
    assert (outcome.right, outcome.slip) == (False, first.code)
    assert first.what in outcome.sentence
    assert outcome.lines[0].startswith(f"stop: {first.what}")
    assert 0.0 < outcome.share < 0.5
    assert 0.0 < score(task, less) < score(task, plan)
    none = replace(plan, setups=(replace(plan.setups[0], operations=()),))
    assert score(task, none) == 0.0
    slip = check(task, none)
    assert (slip.slip, slip.hint) == ("nothing planned", "Plan something.")
    assert outcome.hint == task.hint


def test_the_rule_of_the_points(task):
    """Sizes within limits count half; no stop a quarter; cautions eat the last one; not made is not within."""
    limits, open_ends = Span(Q_(1, "mm"), Q_(2, "mm")), Span(None, None)

    def share(uses, stops=0, cautions=0):
        rows = [SimpleNamespace(limits=limits, predicted=use, use=use) for use in uses]
        rows.append(SimpleNamespace(limits=open_ends, predicted=None, use=None))
        counts = {"stop": (None,) * stops, "caution": (None,) * cautions}
        return share_of(SimpleNamespace(sizes=rows, of=counts.get))

    assert share([0.2, 1.0]) == 1.0
    assert share([0.2, 1.0], cautions=4) == 0.5 + 0.25 + 0.25 * 0.6
    assert share([0.2], cautions=99) == 0.75
    assert share([0.2, 1.01], stops=1) == 0.25
    assert share([0.2, None, None, 3.0], stops=3, cautions=1) == 0.125
    assert share([None], stops=1) == 0.0
    assert share([]) == 1.0


def test_feedback_never_shows_a_worked_plan(task):
    outcome = check(task, replace(solution(task), setups=solution(task).setups[:1]))
    said = " ".join(map(str, feedback(task, outcome, 2))) + " ".join(outcome.lines)
    assert '"schema"' not in said
    assert "Traceback" not in said


def other(plan, **changes):
    return Plan(replace(plan.part, **changes), plan.setups)


def feature(plan, name, **changes):
    kept = [replace(each, **changes) if each.name == name else each for each in plan.part.features]
    return other(plan, features=tuple(kept))


def test_a_part_that_is_not_the_students_own_is_refused(task):
    plan = solution(task)
    mine = [
        other(plan, name="my shoe"), other(plan, material="brass"), other(plan, stock_length=Q_(70, "mm")),
        other(plan, stock_diameter=Q_(40, "mm")), other(plan, quantity=4), other(plan,
        features=plan.part.features[:-1]),
        other(plan, features=(*plan.part.features[1:], plan.part.features[0])),
        feature(plan, "collar", limits=Span(Q_(33.0, "mm"), Q_(35.0, "mm"))), feature(plan, "collar", limits=None),
        feature(plan, "screw thread", designation="1-12 UNF-1A"), feature(plan, "collar", length_limits=None),
        feature(plan, "screw thread", runout=None, datum=None), feature(plan, "collar", finish=Q_(6.3, "um")),
    ]  # fmt: skip
    for each in mine:
        outcome = check(task, each)
        assert (outcome.right, outcome.slip, outcome.share) == (False, "not your job", 0.0), each.part
        assert score(task, each) == 0.0
    in_inches = other(plan, stock_diameter=plan.part.stock_diameter.to("inch"), note="My own words.")
    for each in (in_inches, other(plan, quantity=2), feature(plan, "collar", finish=Q_(1.6, "um"))):
        assert check(task, each).right is True, each.part


def test_the_lathe_and_the_rack_are_never_the_students(task):
    plan = solution(task)
    weak = replace(lathe(), fastest_spindle=Q_(60.0, "rev/min"), name="mine")
    assert check(task, replace(plan, lathe=weak)) == check(task, plan)
    assert check(replace(task, lathe=weak), plan) != check(task, plan)
    few = replace(rack(), tools=rack().tools[:1])
    assert check(replace(task, rack=few), plan).right is False
    assert check(task, replace(plan, rack=few)) == check(task, plan)


@pytest.mark.parametrize("fact", FACTS)
def test_a_setup_states_nothing_that_belongs_to_the_lathe(task, fact):
    plan = solution(task)
    unit = {"tilt": "N*mm/rad", "radial": "N/mm", "center": "N/mm"}.get(fact, "mm")
    better = 0.0 if unit == "mm" else 1e12
    bad = replace(plan, setups=(replace(plan.setups[0], **{fact: Q_(better, unit)}), plan.setups[1]))
    assert check(task, bad).slip == "not your job"
    assert check(replace(task, stated={fact: Span(Q_(0.02, unit), Q_(1.0, unit))}), bad).slip == "not your job"
    stated = replace(bad, setups=(replace(plan.setups[0], **{fact: Q_(1.0, unit)}), plan.setups[1]))
    assert check(replace(task, stated={fact: Span(Q_(0.02, unit), None)}), stated).slip != "not your job"


def test_no_more_jaw_force_than_the_chuck_has(task):
    plan = solution(task)
    most = plan.machine.jaw_force
    for force, slip in ((most * 1.01, "not your job"), (most * 0.9, None)):
        asked = replace(plan, setups=(replace(plan.setups[0], jaw_force=force.to("N")), plan.setups[1]))
        assert (check(task, asked).slip == "not your job") is (slip is not None)


DEEP = '{"schema": "latheworks plan 1", "x": ' + "[" * 20_000 + "]" * 20_000 + "}"
UNREAD = ["", " ", None, {}, [], 5, True, math.nan, "nan", "plan.json", "/etc/passwd", "{", "{}", "[]", DEEP,
          "{" * 50_000,
          {"plan": 5}, {"plan": "x", "more": "y"}, {"plan": ""}, object(), b"{}", "{" + " " * LONGEST_PLAN]  # fmt: skip


@pytest.mark.parametrize("bad", UNREAD, ids=range(len(UNREAD)))
def test_what_is_no_plan_is_said_earns_nothing_and_is_no_miss(task, bad):
    outcome = check(task, bad)
    assert (outcome.right, outcome.counts) == (False, False)
    assert outcome.sentence.strip()
    assert len(outcome.sentence) < 500
    assert score(task, bad) == 0.0


def test_numbers_that_are_none_are_refused_in_a_plan(task):
    text = write_plan(solution(task))
    for bad in ("NaN", "Infinity", "1e400", '"nan mm"', '"1e999 mm"', '"-44 mm"', '"44 parsec"', "44", "true", "[]"):
        changed = text.replace('"44 mm"', bad, 1)
        assert changed != text
        outcome = check(task, changed)
        assert (outcome.right, score(task, changed)) == (False, 0.0), bad


def test_a_subclass_of_a_plan_or_a_text_is_no_plan(task):
    class Evil(Plan):
        """A plan that could lie about itself."""

    class Text(str):
        """A text that could lie about itself."""

    plan = solution(task)
    for bad in (Evil(plan.part, plan.setups), Text(write_plan(plan)), {"plan": Text(write_plan(plan))}):
        assert (check(task, bad).right, score(task, bad)) == (False, 0.0)


@pytest.mark.parametrize("share", [math.nan, math.inf, -1.0, 1.5, -0.1, None, "1", True, 2])
def test_a_share_that_is_none_earns_nothing(task, share):
    assert points(task, Outcome(True, None, "", share=share)) == 0.0
    number = Number(question="", hint="", worked="", right=Q_(1, U.mm), within=Q_(1, U.mm))
    assert points(number, Outcome(1, None, "")) == 0.0
    assert points(number, Outcome(True, None, "", share=share)) == 1.0


def test_the_long_text_is_for_a_plan_alone():
    text = "x" * LONGEST_PLAN
    assert clean_answer({"plan": text}) == {"plan": text}
    for bad in (text, [text], {"a": text}, {"plan": text, "a": ""}, {"plan": text + "x"}, {"plan": ["x"]}):
        with pytest.raises(Damaged):
            clean_answer(bad)


def test_the_page_keeps_the_plan_as_data_and_brings_it_back(task, tmp_path):
    panel = Exercise(task, AnswerBook("ana-7", tmp_path), plan=solution(task))
    assert panel.error is None
    assert "✓ Right" in panel.feedback.value
    assert "<ul><li>" in panel.feedback.value
    kept = AnswerBook("ana-7", tmp_path).get("x9.hand_in")
    assert kept == Kept({"plan": write_plan(solution(task))}, 0, True, True, code=task.code)
    assert read_plan(kept.answer["plan"]) == solution(task)
    again = Exercise(task, AnswerBook("ana-7", tmp_path))
    assert again.feedback.value == panel.feedback.value
    worse = Exercise(
        task, AnswerBook("ana-7", tmp_path), plan=replace(solution(task), setups=solution(task).setups[:1])
    )
    assert "Not yet" in worse.feedback.value
    assert (worse.kept.misses, worse.kept.right) == (1, False)
    assert Exercise(task, AnswerBook("ana-7", tmp_path)).kept.misses == 1
    none = Exercise(task, AnswerBook("ben-2", tmp_path))
    assert "plan=my_plan" in none.feedback.value
    assert AnswerBook("ben-2", tmp_path).get("x9.hand_in") is None
    wrong = Exercise(task, AnswerBook("ana-7", tmp_path), plan="my_plan.json")
    assert "not the text of a plan" in wrong.feedback.value
    assert AnswerBook("ana-7", tmp_path).get("x9.hand_in").misses == 1


def test_texts_in_a_plan_do_not_become_markup(task, tmp_path):
    data = json.loads(good_plan("ana-7"))
    data["setups"][0]["name"] = data["note"] = "<script>alert(1)</script>"
    data["setups"][0]["operations"][0]["tool"] = "<img src=x onerror=alert(1)>"
    panel = Exercise(task, AnswerBook("ana-7", tmp_path), plan=json.dumps(data))
    assert panel.kept.checked
    assert "<script" not in panel.feedback.value
    assert "<img" not in panel.feedback.value
