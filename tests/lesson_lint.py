"""The rules of a lesson's form, as functions from a notebook to sentences about what to change."""

import ast
import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

VIEW = "application/vnd.jupyter.widget-view+json"
LOGIC = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Lambda, ast.For, ast.While, ast.If, ast.IfExp,
         ast.Try, ast.With, ast.ListComp, ast.SetComp, ast.DictComp, ast.GeneratorExp, ast.Match)  # fmt: skip
HEADINGS = ("Key points", "In the shop, check this", "Sources", "Next lesson")
FIRST_CELL = ("After this you can", "Minutes", "Good for", "Cautions", "qualified staff")
# Designations are names, formulas in code or math are not readings, and a version is not a size.
NAMES = re.compile(
    r"`[^`]*`|\$[^$]*\$|<[^>]*>|\bM\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?(?:-\w+)?|\bB1\.\d+\w*|\bTr ?\d+[x\d.]*"
    r"|\b(?:ISO|ASME|BS|DIN)\s[\w.:-]+|\b0?\.\d+-\d+ UN\w*"
)
COMPUTED = re.compile(r"(?<![\w.])\d+\.\d+|(?<![\w.])\.\d+")
SAID_ADDRESS = re.compile(r"(?:https?|ftp|file)://|\bwww\.")
ABSOLUTE_PATH = re.compile(r"(?<![\w.<])/(?:home|root|work|tmp|usr|opt|var|Users|mnt|etc)/|\b[A-Z]:\\")


# What would show an answer before it is given; a homework is handed out with its outputs.
ANSWERS = {"solution", "right", "solved", "slips", "worked", "worked_answer", "check", "feedback", "score"}


@dataclass(frozen=True)
class Form:
    """How many of what a lesson has; lesson 00 introduces one bench and fewer exercises.

    Also its title, the parts of its first cell, the lines under the first of these, and its headings; with `graded`, a
    homework's form: no key points and no notes for the TA, but nothing that shows an answer.
    """

    cells: tuple[int, int] = (25, 40)
    words: tuple[int, int] = (800, 1400)
    benches: tuple[int, int] = (2, 3)
    exercises: tuple[int, int] = (4, 6)
    code_lines: int = 8
    predictions: frozenset[str] = field(default_factory=frozenset)
    title: tuple[str, str] = (r"# .+\?", "a question")
    first: tuple[str, ...] = FIRST_CELL
    points: tuple[int, int] = (3, 5)
    headings: tuple[str, ...] = HEADINGS
    graded: bool = False


def homework(**other: Any) -> Form:
    """The form of a graded homework, and of the readiness check."""
    usual: dict[str, Any] = {
        "cells": (18, 40), "words": (250, 800), "benches": (0, 1), "exercises": (7, 12), "graded": True,
        "title": (r"# (?:Homework \d|Readiness check): .+[^?.]", "'Homework N: ...' or 'Readiness check: ...'"),
        "first": ("What is asked", "Minutes", "Needs", "Good for", "Cautions", "qualified staff"),
        "headings": ("Hand in", "How it is marked", "Sources"),
    }  # fmt: skip
    return Form(**{**usual, **other})


def complaints(notebook: Any, form: Form) -> list[str]:
    """Everything that the notebook's form misses."""
    code = [c for c in notebook.cells if c.cell_type == "code"]
    prose = [c for c in notebook.cells if c.cell_type == "markdown"]
    found = [*_parts(prose, form), *_prose(prose), *_kept(notebook, code), *_counts(notebook, code, prose, form)]
    for cell in code:
        found += [f"{cell.id}: {text}" for text in _code(cell, form)]
    return found


def _within(name: str, number: int, span: tuple[int, int]) -> list[str]:
    return [] if span[0] <= number <= span[1] else [f"{number} {name}, expected {span[0]} to {span[1]}"]


def _counts(notebook: Any, code: list[Any], prose: list[Any], form: Form) -> list[str]:
    words = len(re.sub(r"<[^>]*>|[#*|`_-]", " ", "\n".join(c.source for c in prose)).split())
    names = [name for c in code for name in re.findall(r"\bexercise\(\s*[\"']([^\"']+)", c.source)]
    judged = [name for name in names if name not in form.predictions]
    benches = [len(re.findall(r"\b\w+_bench\(", c.source)) for c in code]
    found = [
        *_within("cells", len(notebook.cells), form.cells),
        *_within("words of prose", words, form.words),
        *_within("benches", sum(benches), form.benches),
        *_within("exercises besides predictions", len(judged), form.exercises),
    ]
    if len(set(names)) != len(names):
        found.append("an exercise stands twice")
    if any(a and b for a, b in pairwise(benches)) or max(benches, default=0) > 1:
        found.append("two benches in a row: put a code cell or an exercise between")
    return found


def _parts(prose: list[Any], form: Form) -> list[str]:
    first, everything = prose[0].source, "\n".join(c.source for c in prose)
    title = first.splitlines()[0]
    found = [] if re.fullmatch(form.title[0], title) else [f"the title is not {form.title[1]}: {title}"]
    found += [f"the first cell lacks {part!r}" for part in form.first if part not in first]
    if "nvented" not in everything:
        found.append("nowhere says that the corer is invented")
    can = len(re.findall(r"^[-*] ", first.partition(form.first[0])[2].partition("Minutes")[0], re.M))
    found += _within(f"lines under {form.first[0]!r}", can, form.points)
    found += [f"no heading '## {h}'" for h in form.headings if f"\n## {h}\n" not in f"\n{everything}\n"]
    if form.graded:
        return found
    key_points = everything.partition("## Key points")[2].partition("##")[0]
    found += _within("key points", len(re.findall(r"^(?:[-*]|\d\.) ", key_points, re.M)), (3, 3))
    last = prose[-1].source
    if not (last.lstrip().startswith("<details>") and "Notes for the TA" in last):
        found.append("the last cell is not the folded notes for the TA")
    return found


def _prose(prose: list[Any]) -> list[str]:
    found = []
    for cell in prose:
        if ABSOLUTE_PATH.search(cell.source):
            found.append(f"{cell.id}: an absolute path")
        if re.search(r"<script|\son\w+=|javascript:", cell.source, re.I):
            found.append(f"{cell.id}: a script")
        if "given" in cell.metadata.get("tags", ()):
            continue
        for number in COMPUTED.findall(NAMES.sub(" ", cell.source)):
            if len(number.replace(".", "").lstrip("0")) >= 3:
                found.append(f"{cell.id}: {number} is typed into prose; let a cell print it, or tag given data 'given'")
    return found


def _kept(notebook: Any, code: list[Any]) -> list[str]:
    found = ["widget state is kept in the notebook"] if "widgets" in notebook.metadata else []
    if [c.execution_count for c in code] != list(range(1, len(code) + 1)):
        found.append("cells are stripped, or were not run once from the top: run python -m tests.refresh_lessons")
    for cell in code:
        for output in cell.outputs:
            if output.output_type == "error":
                found.append(f"{cell.id}: an error is kept as its output")
            if VIEW in output.get("data", {}):
                found.append(f"{cell.id}: a widget view is kept")
            if ABSOLUTE_PATH.search(str(output)):
                found.append(f"{cell.id}: an absolute path in its output")
    return found


def _code(cell: Any, form: Form) -> list[str]:
    found = []
    tagged = "exercise" in cell.metadata.get("tags", ())
    if len(cell.source.splitlines()) > form.code_lines and not tagged:
        found.append(f"{len(cell.source.splitlines())} lines, expected at most {form.code_lines}")
    if SAID_ADDRESS.search(cell.source) or ABSOLUTE_PATH.search(cell.source):
        found.append("a web address or an absolute path in code")
    try:
        tree = ast.parse(cell.source)
    except SyntaxError:
        return [*found, "not plain Python; no magics here"]
    for node in ast.walk(tree):
        named = getattr(node, "attr", getattr(node, "id", getattr(node, "name", "")))
        if form.graded and isinstance(node, ast.Attribute | ast.Name | ast.alias) and named in ANSWERS:
            found.append(f"{named} in a homework; it would show an answer")
        if isinstance(node, LOGIC) and not tagged:
            found.append(f"{type(node).__name__} in a lesson; put the logic in the library")
        names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or "."] if isinstance(node, ast.ImportFrom) else []
        found += [f"imports {n}" for n in names if n.split(".")[0] not in ("latheworks", "numpy")]
        if (
            isinstance(node, ast.Name | ast.alias)
            and (getattr(node, "id", None) or getattr(node, "name", "")) in BANNED
        ):
            found.append("interact or Output in a lesson; a bench does that")
    if _shows(tree) and not cell.outputs:
        found.append("it shows something, and its output is missing: run python -m tests.refresh_lessons")
    return found


BANNED = {"interact", "interactive", "interactive_output", "Output", "eval", "exec"}


def _shows(tree: ast.Module) -> bool:
    """Whether the cell must have an output: it prints, or ends in an expression."""
    prints = any(isinstance(n, ast.Call) and getattr(n.func, "id", "") == "print" for n in ast.walk(tree))
    return prints or bool(tree.body and isinstance(tree.body[-1], ast.Expr))
