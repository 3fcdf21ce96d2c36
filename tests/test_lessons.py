"""The form of every lesson, and proof that each rule bites. nbval runs the lessons and compares their numbers."""

import copy
from itertools import pairwise
from pathlib import Path

import nbformat
import pytest

from latheworks.course import find, names
from latheworks.course.tasks import Prediction
from tests.lesson_lint import Form, complaints

LESSONS = Path(__file__).parents[1] / "lessons"
PATHS = sorted(p for p in LESSONS.glob("*.ipynb"))
GUESSES = frozenset(name for name in names() if isinstance(find(name), Prediction))
# Lesson 00 introduces one bench, and asks less, since everything is new.
FORMS = {"00": Form(benches=(1, 1), exercises=(2, 4), predictions=GUESSES)}
START = "00_start_here.ipynb"


def form_of(name):
    return FORMS.get(name[:2], Form(predictions=GUESSES))


@pytest.mark.parametrize("name", [p.name for p in PATHS])
def test_a_lesson_has_its_form(name):
    notebook = nbformat.read(LESSONS / name, as_version=4)
    nbformat.validate(notebook)
    found = complaints(notebook, form_of(name))
    assert not found, "\n".join(found)


@pytest.mark.parametrize("name", [p.name for p in PATHS])
def test_a_lesson_uses_its_own_exercises_and_all_of_them(name):
    text = (LESSONS / name).read_text(encoding="utf-8")
    own = [n for n in names() if n.startswith(name[:2])]
    assert own
    missing = [n for n in own if n not in text]
    assert not missing, f"defined and never asked: {missing}"


def test_lessons_are_there_and_each_names_the_next():
    assert START in [p.name for p in PATHS]
    for here, following in pairwise(PATHS):
        assert following.name in here.read_text(encoding="utf-8"), f"{here.name} does not lead to {following.name}"


@pytest.fixture
def lesson():
    return nbformat.read(LESSONS / START, as_version=4)


def first_code(notebook):
    return next(c for c in notebook.cells if c.cell_type == "code")


def first_shown(notebook):
    return next(c for c in notebook.cells if c.cell_type == "code" and c.outputs)


def set_source(pick, source):
    def change(notebook):
        pick(notebook)["source"] = source

    return change


def add_prose(text, *tags):
    def change(notebook):
        notebook.cells[3:3] = [nbformat.v4.new_markdown_cell(text, metadata={"tags": list(tags)} if tags else {})]

    return change


def add_code(source, *tags):
    def change(notebook):
        cell = nbformat.v4.new_code_cell(source, metadata={"tags": list(tags)})
        notebook.cells[-6:-6] = [cell]
        for number, code in enumerate((c for c in notebook.cells if c.cell_type == "code"), start=1):
            code.execution_count = number

    return change


def drop(words):
    def change(notebook):
        for cell in notebook.cells:
            if cell.cell_type == "markdown":
                cell.source = cell.source.replace(words, "x")

    return change


BROKEN = {
    "stripped count": (lambda n: first_code(n).update(execution_count=None), "stripped"),
    "stripped output": (lambda n: first_shown(n).update(outputs=[]), "output is missing"),
    "widget state": (lambda n: n.metadata.update(widgets={}), "widget state"),
    "long cell": (add_code("x = 1\n" * 9), "9 lines"),
    "loop": (add_code("for i in (1, 2): pass"), "For in a lesson"),
    "function": (add_code("def f(): return None"), "FunctionDef"),
    "lambda": (add_code("f = lambda: None"), "Lambda"),
    "condition": (add_code("x = 1 if True else 2"), "IfExp"),
    "import": (add_code("import math"), "imports math"),
    "interact": (add_code("from latheworks import interact"), "interact"),
    "address": (add_code("x = 'https://example.org'"), "web address"),
    "path": (add_prose("See /home/ana/file."), "absolute path"),
    "script": (add_prose("<script>1</script>"), "a script"),
    "typed number": (add_prose("The drill is 10.72 mm."), "10.72 is typed"),
    "typed inches": (add_prose("The drill is .4219 in."), ".4219 is typed"),
    "no question": (lambda n: n.cells[0].update(source=n.cells[0].source.replace("?", ".", 1)), "not a question"),
    "no minutes": (drop("Minutes"), "lacks 'Minutes'"),
    "no cautions": (drop("Cautions"), "lacks 'Cautions'"),
    "no staff": (drop("qualified staff"), "qualified staff"),
    "no key points": (drop("## Key points"), "Key points"),
    "no shop check": (drop("## In the shop, check this"), "In the shop"),
    "no sources": (drop("## Sources"), "Sources"),
    "no next": (drop("## Next lesson"), "Next lesson"),
    "no notes": (drop("Notes for the TA"), "notes for the TA"),
    "two benches": (add_code("a = thread_bench(), thread_bench()"), "two benches"),
    "too many words": (add_prose("word " * 1400), "words of prose"),
    "too many cells": (lambda n: [add_prose("x")(n) for _ in range(40)], "cells"),
    "exercise twice": (add_code('a = exercise("00.own_speed"), exercise("00.own_speed")'), "twice"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_each_rule_bites(lesson, fault):
    change, expected = BROKEN[fault]
    assert not complaints(copy.deepcopy(lesson), form_of(START))
    change(lesson)
    found = complaints(lesson, form_of(START))
    assert any(expected in text for text in found), found


@pytest.mark.parametrize(
    "change",
    [
        add_prose("The bar is 31.75 mm across.", "given"),
        add_prose("A thread 0.190-32 UNF-2A, M10x1.25-6H, `0.6134 P`, $0.5413 P$, ASME B1.1 are names; 0.5 is short."),
        add_code("def f(x):\n    return None", "exercise"),
    ],
)
def test_what_is_allowed_is_not_complained_of(lesson, change):
    change(lesson)
    assert not complaints(lesson, form_of(START))
