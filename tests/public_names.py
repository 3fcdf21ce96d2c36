"""The public names of the library: what its rooms export, and the methods of those classes that take arguments."""

import inspect
from collections.abc import Callable
from importlib import import_module
from typing import Any

ROOMS = (
    "latheworks", "latheworks.threads", "latheworks.deflection", "latheworks.drilling", "latheworks.cutting",
    "latheworks.materials", "latheworks.shop", "latheworks.budget", "latheworks.passes", "latheworks.plan",
)  # fmt: skip
# The registry's own, which are pint's, and the base of the errors.
NOT_OURS = {"Q_", "ureg", "LatheworksError"}


def exported() -> dict[str, Any]:
    """Every exported name of every room, each once, with what it is."""
    found = {}
    for room in ROOMS:
        module = import_module(room)
        found |= {name: getattr(module, name) for name in module.__all__ if name not in NOT_OURS}
    return found


def functions() -> dict[str, Callable[..., Any]]:
    """The exported functions."""
    return {name: thing for name, thing in exported().items() if callable(thing) and not inspect.isclass(thing)}


def classes() -> dict[str, type]:
    """The exported classes."""
    return {name: thing for name, thing in exported().items() if inspect.isclass(thing)}


def methods() -> dict[str, Callable[..., Any]]:
    """Public methods that take arguments, as `Class.method`."""
    found = {}
    for name, owner in classes().items():
        for method, plain in inspect.getmembers(
            owner, lambda member: inspect.isfunction(member) or inspect.ismethod(member)
        ):
            if method.startswith("_"):
                continue
            if [p for p in inspect.signature(plain).parameters if p not in ("self", "cls")]:
                found[f"{name}.{method}"] = plain
    return found
