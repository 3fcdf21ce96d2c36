"""The sixty decisions of a job: each is answered by something that is there, or left to the person with a reason."""

import re
from importlib import import_module
from pathlib import Path

import pytest

from latheworks.plan import __file__ as room
from latheworks.plan import barrel_plan, review, shoe_plan
from latheworks.plan.review_result import FeatureRow, OperationRow, Review
from latheworks.tables import table

ROWS = table("decisions")
CODE = "\n".join(path.read_text(encoding="utf-8") for path in Path(room).parent.glob("*.py"))
RESULTS = {"FeatureRow": FeatureRow, "OperationRow": OperationRow, "Review": Review}


def there(answer):
    """Whether an answer of the table exists: a public name, a field of a result, or the code of a finding."""
    kind, _, rest = answer.partition(":")
    if kind == "finding":
        return f'"{rest}"' in CODE or rest in ("tailstock not locked", "quill not locked")
    if kind == "row":
        owner, _, name = rest.partition(".")
        return name in RESULTS[owner].__dataclass_fields__ or hasattr(RESULTS[owner], name)
    module, _, name = answer.rpartition(".")
    return name in import_module(module).__all__


def test_there_are_sixty_each_once():
    assert [row["number"] for row in ROWS] == [str(n) for n in range(1, 61)]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["number"])
def test_a_decision_is_answered_or_left_with_a_reason(row):
    answers = [each for each in row["answered by"].split(";") if each]
    assert answers or row["left to the person"]
    assert all(map(there, answers)), [each for each in answers if not there(each)]
    assert bool(row["how"]) == bool(answers)


def test_what_does_not_exist_is_no_answer():
    assert not there("finding:the moon is full")
    assert not there("row:Review.no_such_field")
    assert not there("latheworks.plan.no_such_name")


@pytest.mark.parametrize("plan", [barrel_plan, shoe_plan])
def test_a_review_says_what_it_leaves_to_the_person(plan):
    left = dict(review(plan()).left_to_person)
    assert "software never signs" in left["Setup sheet complete and safety signed?"]
    assert len(left) == sum(bool(row["left to the person"]) for row in ROWS)


@pytest.mark.parametrize("plan", [barrel_plan, shoe_plan])
def test_the_verdict_never_says_safe(plan):
    found = review(plan())
    assert found.verdict in ("stop", "caution", "clear of findings")
    said = (str(found) + " ".join(map(str, found.findings))).casefold()
    assert not re.search(r"\b(safe|approved|ok|okay)\b", said)
    assert "planning aid" in said
