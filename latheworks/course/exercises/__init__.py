"""The exercises of lessons and homeworks, one module each: data built from the library when asked for.

A module holds functions that take a Variant and return a task, and lists them in EXERCISES. Its name says what the
names of its exercises begin with: `lesson_NN.py` NN, `homework_N.py` hN, `readiness.py` ready. Each exercise has its
own numbers; where a module says ONE_JOB, all its exercises are about one job and share them.
"""

import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from importlib import import_module

from latheworks.course.tasks import Task
from latheworks.course.variant import Variant, variant
from latheworks.door import nearest
from latheworks.errors import NotInTable

Build = Callable[[Variant], Task]


_BEGINS = {"lesson_": "", "homework_": "h", "readiness": "ready"}


@cache
def _modules() -> Mapping[str, str]:
    """What the names of exercises begin with, and the module that holds them: lessons first, then homeworks."""
    found = sorted(info.name for info in pkgutil.iter_modules(__path__))
    return {
        start + name.removeprefix(kind): name
        for kind, start in _BEGINS.items() for name in found if name.startswith(kind)
    }  # fmt: skip


@cache
def _builders(lesson: str) -> Mapping[str, Build]:
    """The exercises of one lesson or homework by name, in its order; the others are not read for it."""
    builders = import_module(f"{__name__}.{_modules()[lesson]}").EXERCISES
    return {f"{lesson}.{build.__name__}": build for build in builders}


def _assignment(name: str) -> str:
    """What the numbers of an exercise are made from: its own name, or that of the job it belongs to."""
    lesson = name.partition(".")[0]
    shared = getattr(import_module(f"{__name__}.{_modules()[lesson]}"), "ONE_JOB", False)
    return lesson if shared else name


def names() -> tuple[str, ...]:
    """The names of all exercises, in the order of the lessons, then of the homeworks."""
    return tuple(name for lesson in _modules() for name in _builders(lesson))


def find(name: str, student: str | None = None, *, group: str | None = None, course: str | None = None) -> Task:
    """Return one exercise with the numbers of one student, or of the group that shares them.

    Parameters: name, such as "00.inch_or_metric"; student, group and course as in `latheworks.course.variant`, or
    None for what the surroundings say. Raises NotInTable for an unknown name, with the nearest one, and
    LatheworksError for an unusable key.

    >>> find("00.inch_or_metric", "me").name
    '00.inch_or_metric'
    """
    lesson = name.partition(".")[0] if isinstance(name, str) else ""
    build = _builders(lesson).get(name) if lesson in _modules() else None
    if build is None:
        near = nearest(name, names()) or next(iter(names()), "00.inch_or_metric")
        raise NotInTable(f'No exercise {name!r:.60}. Try exercise("{near}").')
    numbers = variant(_assignment(name), student, group=group, course=course)
    return replace(build(numbers), name=name, code=numbers.code)
