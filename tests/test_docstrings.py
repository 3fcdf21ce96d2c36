"""The docstring is a contract: every parameter with its unit, what is raised, the source, and an example that runs."""

import doctest
import inspect
import re

import pytest

from latheworks.units import Q_
from tests.bad_input_table import CALLS, GIVEN
from tests.public_names import classes, functions, methods

EVERYTHING = {**functions(), **classes(), **methods()}
SOURCES = re.compile(r"\bSource\b|\bsource as in `|common practice|from memory")


def lacks(text, parameters, sizes):
    """What a docstring of a function leaves unsaid; `sizes` are the parameters that are quantities."""
    found = [] if SOURCES.search(text) else ["no source"]
    found += [] if re.search(r"\b[Rr]aises\b", text) else ["nothing about what is raised"]
    found += [] if ">>>" in text else ["no example"]
    for name in parameters:
        if not re.search(rf"\b{name}\b", text):
            found.append(f"nothing about {name}")
        # Its unit stands in brackets after it, or it is said to be as in another function.
        elif name in sizes and not re.search(rf"\b{name}\b[^;]*?(\[[^\]]+\]|as in `)", text):
            found.append(f"no unit in brackets for {name}")
    return found


@pytest.mark.parametrize("name", CALLS)
def test_a_function_says_everything(name):
    call = CALLS[name]
    text = inspect.getdoc(EVERYTHING[name])
    sizes = {argument for argument, value in call.good.items() if isinstance(value, Q_)}
    # The source of a method is that of its class.
    found = [word for word in lacks(text, call.good, sizes) if name not in methods() or word != "no source"]
    assert found == []


@pytest.mark.parametrize("name", EVERYTHING)
def test_a_public_name_begins_with_one_sentence(name):
    text = inspect.getdoc(EVERYTHING[name])
    first = text.split("\n\n")[0]
    assert first.rstrip()[-1] in ".:"
    assert first[0].isupper()


@pytest.mark.parametrize("name", sorted(GIVEN))
def test_a_result_says_what_it_holds(name):
    assert len(inspect.getdoc(EVERYTHING[name])) > 40


def test_the_examples_are_there_and_are_examples():
    finder = doctest.DocTestFinder(recurse=False)
    for name in functions():
        plain = inspect.unwrap(EVERYTHING[name])
        examples = [example for test in finder.find(plain, name) for example in test.examples]
        assert any(example.want for example in examples), f"{name}: an example prints nothing"


def test_each_rule_bites():
    good = "Return it.\n\nParameters: force [N]; at, one or many [mm]. Raises WrongUnit. Source: a book.\n\n>>> 1\n1"
    assert lacks(good, ["force", "at"], {"force", "at"}) == []
    assert lacks(good.replace(" [mm]", ""), ["at"], {"at"}) == ["no unit in brackets for at"]
    assert lacks(good, ["along"], set()) == ["nothing about along"]
    assert lacks(good.replace("Source: a book.", ""), [], set()) == ["no source"]
    assert lacks(good.replace("Raises WrongUnit.", ""), [], set()) == ["nothing about what is raised"]
    assert lacks(good.replace(">>>", ""), [], set()) == ["no example"]
