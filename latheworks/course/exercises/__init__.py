"""The exercises of the lessons, one module a lesson: data built from the library when asked for.

A module `lesson_NN.py` holds functions that take a Variant and return a task, and lists them in EXERCISES.
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


@cache
def _lessons() -> tuple[str, ...]:
    """The numbers of the lessons that have exercises, as written in their names."""
    modules = (info.name for info in pkgutil.iter_modules(__path__))
    return tuple(sorted(name.removeprefix("lesson_") for name in modules if name.startswith("lesson_")))


@cache
def _builders(lesson: str) -> Mapping[str, Build]:
    """The exercises of one lesson by name, in its order; other lessons are not read for it."""
    builders = import_module(f"{__name__}.lesson_{lesson}").EXERCISES
    return {f"{lesson}.{build.__name__}": build for build in builders}


def names() -> tuple[str, ...]:
    """The names of all exercises, in the order of the lessons."""
    return tuple(name for lesson in _lessons() for name in _builders(lesson))


def find(name: str, student: str | None = None) -> Task:
    """Return one exercise with the numbers of one student.

    Parameters: name, such as "00.inch_or_metric"; student, the key, or None for the default one.
    Raises NotInTable for an unknown name, with the nearest one, and LatheworksError for an unusable key.

    >>> find("00.inch_or_metric", "me").name
    '00.inch_or_metric'
    """
    lesson = name.partition(".")[0] if isinstance(name, str) else ""
    build = _builders(lesson).get(name) if lesson in _lessons() else None
    if build is None:
        near = nearest(name, names()) or next(iter(names()), "00.inch_or_metric")
        raise NotInTable(f'No exercise {name!r:.60}. Try exercise("{near}").')
    return replace(build(variant(name, student)), name=name)
