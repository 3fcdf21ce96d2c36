"""Plans and parts as JSON: exact there and back, by a published schema, and a broken one says which line is wrong."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Sequence
from dataclasses import MISSING, fields
from functools import cache
from pathlib import Path
from typing import Any

from latheworks.errors import LatheworksError, NotInTable, OutOfRange, WrongUnit
from latheworks.materials import Material, materials
from latheworks.plan.feature import Feature
from latheworks.plan.lines import line_of
from latheworks.plan.operation import Operation
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.setup import Setup
from latheworks.quick_schema import jsonschema
from latheworks.shop import Lathe, Rack
from latheworks.tables import DATA
from latheworks.units import Q_, Span, ureg

SCHEMAS = {"plan": "latheworks plan 1", "part": "latheworks part 1"}
LARGEST = 200_000
# How each unit is written in a file, and what the registry calls it.
_UNITS = {
    name: ureg.parse_units(name)
    for name in ("mm", "um", "inch", "thou", "degree", "rev/min", "m/min", "ft/min", "mm/rev", "inch/rev", "N", "kN",
                 "lbf", "N/mm", "N/um", "N*mm/rad")
}  # fmt: skip
_BY_UNIT = {unit: name for name, unit in _UNITS.items()}
_QUANTITY = re.compile(r"(-?[0-9]{1,25}(?:\.[0-9]{1,25})?(?:e[-+]?[0-9]{1,3})?|inf) ([A-Za-z*/]{1,12})")
_LISTS = {"features": Feature, "setups": Setup, "operations": Operation}


def write_plan(plan: Plan, path: str | Path | None = None) -> str:
    """Return a plan as JSON text, and put it into a file where a path is given.

    The lathe and the rack are the shop's, so only their names are kept. Parameters: plan, a `Plan`; path of the file
    [text or a Path that ends in .json; none]. Raises LatheworksError for what is no Plan, a material of one's own, or
    a file that cannot be written. Source: JSON, RFC 8259; JSON Schema 2020-12.

    >>> from latheworks.plan.examples import barrel_plan
    >>> read_plan(write_plan(barrel_plan())) == barrel_plan()
    True
    """
    if not isinstance(plan, Plan):
        raise WrongUnit(f"write_plan: plan: got {plan!r:.60}, expected a Plan. Try write_plan(barrel_plan()).")
    kept = _plain(plan)
    del kept["part"]
    data: dict[str, Any] = {"schema": SCHEMAS["plan"], "lathe": plan.machine.name, "rack": plan.tools.name, **kept,
            "part": _plain(plan.part)}  # fmt: skip
    return _written(data, path, "write_plan")


def write_part(part: Part, path: str | Path | None = None) -> str:
    """Return a part as JSON text, and put it into a file where a path is given; otherwise as `write_plan`.

    Parameters: part, a `Part`; path of the file [text or a Path; none]. Raises LatheworksError as `write_plan` does.
    Source: JSON, RFC 8259.

    >>> from latheworks.plan.examples import cutting_shoe
    >>> read_part(write_part(cutting_shoe())) == cutting_shoe()
    True
    """
    if not isinstance(part, Part):
        raise WrongUnit(f"write_part: part: got {part!r:.60}, expected a Part. Try write_part(corer_barrel()).")
    return _written({"schema": SCHEMAS["part"], **_plain(part)}, path, "write_part")


def read_plan(source: str | Path, lathe: Lathe | None = None, rack: Rack | None = None) -> Plan:
    """Return the plan in a JSON text or file, made for a lathe and a rack.

    Parameters: source, the text itself, which begins with a brace, or the path of a file [up to 200,000 characters];
    lathe and rack, the teaching ones when left out. Nothing in the file is run.
    Raises LatheworksError that names the line and the place in the plan of the first thing that is wrong.
    Source: latheworks/data/plan.schema.json; JSON Schema 2020-12.

    >>> from latheworks.plan.examples import barrel_plan
    >>> read_plan(write_plan(barrel_plan())).name
    'corer barrel'
    """
    text, data = _read(source, "read_plan", "plan")
    part = _built(Part, data["part"], text, ("part",))
    setups = [_built(Setup, row, text, ("setups", i)) for i, row in enumerate(data["setups"])]
    rest: dict[str, Any] = {name: data[name] for name in ("name", "note") if name in data}
    return _made(Plan, {"part": part, "setups": setups, "lathe": lathe, "rack": rack, **rest}, text, ())


def read_part(source: str | Path) -> Part:
    """Return the part in a JSON text or file; otherwise as `read_plan`.

    Parameters: source, the text itself, or the path of a file [up to 200,000 characters]. Raises LatheworksError as
    `read_plan` does. Source: latheworks/data/plan.schema.json.

    >>> from latheworks.plan.examples import cutting_shoe
    >>> read_part(write_part(cutting_shoe())).name
    'cutting shoe'
    """
    text, data = _read(source, "read_part", "part")
    return _built(Part, {name: value for name, value in data.items() if name != "schema"}, text, ())


def _written(data: dict[str, Any], path: str | Path | None, function: str) -> str:
    text = json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    if path is not None:
        if not isinstance(path, (str, Path)) or Path(path).suffix != ".json":
            raise WrongUnit(f'{function}: path: got {path!r:.60}, expected one that ends in .json. Try "my_plan.json".')
        try:
            Path(path).write_text(text, encoding="utf-8")
        except (OSError, ValueError, TypeError) as error:
            raise LatheworksError(
                f"{function}: path: {str(path)[:80]!r} cannot be written ({str(error)[:60]}). Try a folder of your own."
            ) from None
    return text


def _plain(thing: Any) -> dict[str, Any]:
    """The fields of one of our dataclasses as JSON values; those at their default are left out."""
    found = {}
    for each in fields(thing):
        value = getattr(thing, each.name)
        if not each.init or each.name in ("lathe", "rack") or (each.default is not MISSING and _same(value, each)):
            continue
        found[each.name] = _value(value)
    return found


def _same(value: Any, each: Any) -> bool:
    return type(value) is type(each.default) and bool(value == each.default)


def _value(value: Any) -> Any:
    if isinstance(value, Q_):
        return _quantity(value)
    if isinstance(value, Span):
        return {name: _quantity(end) for name in ("min", "max") if (end := getattr(value, name)) is not None}
    if isinstance(value, Material):
        if value.name not in materials():
            raise NotInTable(f"material: got {value.name!r:.60}, which is in no table, so a file cannot name it. "
                             f"Try a row of its own in materials.csv.")  # fmt: skip
        return value.name
    if isinstance(value, tuple):
        return [each if isinstance(each, str) else _plain(each) for each in value]
    return value


def _quantity(value: Any) -> str:
    """A quantity as its number, all digits, and its unit."""
    if value.units not in _BY_UNIT:
        like = next((unit for unit in _BY_UNIT if value.is_compatible_with(unit)), None)
        if like is None:
            raise WrongUnit(f"unit: got {value:~P}, which a file does not name. Try one of {', '.join(_UNITS)}.")
        value = value.to(like)
    number = value.magnitude
    number = int(number) if float(number).is_integer() and abs(number) < 1e15 else float(number)
    return f"{number!r} {_BY_UNIT[value.units]}"


@cache
def _validator(kind: str) -> Any:
    schema = json.loads((DATA / "plan.schema.json").read_text(encoding="utf-8"))
    chosen = {**schema, "oneOf": [{"$ref": f"#/$defs/{kind}_file"}]}
    return jsonschema().Draft202012Validator(chosen)


def _read(source: Any, function: str, kind: str) -> tuple[str, dict[str, Any]]:
    """The text and its data, checked by the schema."""
    text = _text(source, function)
    try:
        data = json.loads(text, object_pairs_hook=_no_twins, parse_constant=_refuse)
    except json.JSONDecodeError as error:
        raise LatheworksError(
            f"{function}: line {error.lineno}: {error.msg.lower()}. Try to compare it with a file that reads well."
        ) from None
    except RecursionError:
        raise OutOfRange(f"{function}: the text is nested too deep for a {kind}. Try a file of ours.") from None
    except ValueError as error:
        raise LatheworksError(f"{function}: {error}. Try each name once, and finite numbers only.") from None
    flaw = jsonschema().exceptions.best_match(_validator(kind).iter_errors(data))
    if flaw is not None:
        path = list(flaw.absolute_path)
        wanted = flaw.schema.get("description") if isinstance(flaw.schema, dict) else None
        said = f"expected {wanted}" if wanted and flaw.validator != "additionalProperties" else flaw.message[:160]
        got = f"got {json.dumps(flaw.instance)[:60]}, " if wanted and not isinstance(flaw.instance, dict) else ""
        raise LatheworksError(
            f"{function}: line {line_of(text, path)}, {_place(path)}: {got}{said}. Try to change that line."
        )
    return text, data


def _text(source: Any, function: str) -> str:
    if isinstance(source, str) and source.lstrip()[:1] == "{":
        if len(source) > LARGEST:
            raise OutOfRange(f"{function}: {len(source)} characters, expected at most {LARGEST}. Try a smaller file.")
        return source
    if not isinstance(source, (str, os.PathLike)) or not str(source).strip():
        raise WrongUnit(f'{function}: source: got {source!r:.60}, expected JSON text or a path. Try "my_plan.json".')
    try:
        with Path(source).open("rb") as file:
            raw = file.read(LARGEST + 1)
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise LatheworksError(
            f"{function}: {str(source)[:80]!r} cannot be read ({str(error)[:60]}). Try the path of a plan file."
        ) from None
    if len(raw) > LARGEST:
        raise OutOfRange(f"{function}: the file is larger than {LARGEST} bytes. Try a smaller one.")
    return text


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    names = [name for name, _ in pairs]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ValueError(f"the name {twice!r:.40} stands twice in one place")
    return dict(pairs)


def _refuse(word: str) -> None:
    raise ValueError(f"{word} is no number that a file may hold")


def _place(path: Sequence[str | int]) -> str:
    """A path in words, such as: setups 1, operations 3, feed."""
    return " ".join(step if isinstance(step, str) else f"{step + 1}," for step in path).rstrip(",") or "the whole"


def _built(kind: Any, data: dict[str, Any], text: str, path: tuple[str | int, ...]) -> Any:
    """One of our dataclasses out of its JSON values."""
    values: dict[str, Any] = {}
    for name, value in data.items():
        here = (*path, name)
        if name in _LISTS and not (value and isinstance(value[0], str)):
            values[name] = tuple(_built(_LISTS[name], row, text, (*here, i)) for i, row in enumerate(value))
        elif name in ("limits", "length_limits"):
            ends = [_sized(value[end], text, (*here, end)) if end in value else None for end in ("min", "max")]
            values[name] = Span(*ends)
        else:
            values[name] = _typed(kind, name, value, text, here)
    return _made(kind, values, text, path)


_WORDS = {"name", "kind", "side", "designation", "datum", "material", "note", "tool", "method", "grips", "holding",
          "support", "zero"}  # fmt: skip


def _typed(kind: Any, name: str, value: Any, text: str, path: tuple[str | int, ...]) -> Any:
    if isinstance(value, list):
        return tuple(value)
    if isinstance(value, str) and name not in _WORDS:
        return _sized(value, text, path)
    return value


def _sized(value: str, text: str, path: tuple[str | int, ...]) -> Any:
    """A quantity out of its text."""
    match = _QUANTITY.fullmatch(value)
    unit = _UNITS.get(match[2]) if match else None
    if match is None or unit is None:
        raise WrongUnit(
            f"line {line_of(text, path)}, {_place(path)}: got {value!r:.60}, expected a number and one of "
            f'{", ".join(_UNITS)}. Try "12.5 mm".'
        )
    whole = re.fullmatch(r"-?[0-9]{1,15}", match[1])
    return Q_(int(match[1]) if whole else float(match[1]), unit)


def _made(kind: Any, values: dict[str, Any], text: str, path: tuple[str | int, ...]) -> Any:
    try:
        return kind(**values)
    except LatheworksError as error:
        complaint = error.complaints[0].name if error.complaints else ""
        deeper = (*path, complaint) if complaint in values else path
        raise type(error)(f"line {line_of(text, deeper)}, {_place(path)}: {error}") from None
