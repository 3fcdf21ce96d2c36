"""The working of a deflection: every line of it, to be redone with a pocket calculator."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from latheworks.deflection.bend import check_force, check_place, check_setup
from latheworks.deflection.holding import BetweenCenters, Holding
from latheworks.deflection.kernel import HELD_ALREADY
from latheworks.deflection.shaft import Shaft
from latheworks.door import Door
from latheworks.units import U
from latheworks.working import Line, Working

_BEAM = "force method, Euler-Bernoulli beam (derivation)"
_SECTION = "second moment of a round section, any text on strength of materials"
_LETTER = {"center": "L", "rest": "r"}

Flexibilities = dict[tuple[str, str], float]
Term = Callable[[float, float], tuple[str, float]]


def _n(value: float) -> str:
    """A number as it is put into a formula; in brackets when its sign would be misread."""
    text = f"{value:.9g}"
    return f"({text})" if text.startswith("-") else text


def _reach(m: float, power: int) -> Term:
    """int_u^v (m - s)^(power-1) ds, in words and as a value."""
    mark = {2: "²", 3: "³"}[power]

    def term(u: float, v: float) -> tuple[str, float]:
        text = f"(({_n(m)} − {_n(u)}){mark} − ({_n(m)} − {_n(v)}){mark}) / {power}"
        return text, ((m - u) ** power - (m - v) ** power) / power

    return term


def _square(u: float, v: float) -> tuple[str, float]:
    """int_u^v s^2 ds, in words and as a value."""
    return f"({_n(v)}³ − {_n(u)}³) / 3", (v**3 - u**3) / 3


def _product(long: float) -> Term:
    """int_u^v s (L - s) ds, in words and as a value."""

    def term(u: float, v: float) -> tuple[str, float]:
        text = f"({_n(long)} × ({_n(v)}² − {_n(u)}²) / 2 − ({_n(v)}³ − {_n(u)}³) / 3)"
        return text, long * (v**2 - u**2) / 2 - (v**3 - u**3) / 3

    return term


class _Sheet:
    """Collects the lines, and hands each value on to the lines that use it."""

    def __init__(self, shaft: Shaft, holding: Holding, spots: dict[str, float]) -> None:
        self.lines: list[Line] = []
        self.beam, self.give = shaft.beam, holding.compliances
        # In order along the part: every pair is named near end first.
        self.spots = dict(sorted(spots.items(), key=lambda spot: spot[1]))
        self.pairs = [(p, q) for i, p in enumerate(self.spots) for q in list(self.spots)[i:]]
        self.rigidity = []
        modulus = float(shaft.elastic_modulus.m_as(U.MPa))
        for i, (section, softness) in enumerate(zip(shaft.sections, self.beam.softness, strict=True), 1):
            outside, bore = (_n(float(size.m_as(U.mm))) for size in section[1:])
            numbers = f"{_n(modulus)} × pi / 64 × ({outside}⁴ − {bore}⁴)"
            self.rigidity.append(self.add(f"EI{i}", "E pi/64 (D⁴ − d⁴)", numbers, 1 / softness, "N mm²", _SECTION))

    def add(self, symbol: str, formula: str, numbers: str, value: float, unit: str, source: str = _BEAM) -> float:
        """Write a line and return its value."""
        self.lines.append(Line(symbol, formula, numbers, f"{value:.9g} {unit}", source))
        return value

    def integral(self, symbol: str, formula: str, low: float, high: float, unit: str, term: Term) -> float:
        """Add up a term over the pieces of the shaft from `low` to `high`, each divided by its E I."""
        texts, total = [], 0.0
        for start, end, rigidity in zip(self.beam.starts, self.beam.ends, self.rigidity, strict=True):
            u, v = max(float(start), low), min(float(end), high)
            if u < v:
                text, value = term(u, v)
                texts.append(f"{text} / {_n(rigidity)}")
                total += value / rigidity
        return self.add(symbol, formula, " + ".join(texts) or "0", total, unit)

    def in_chuck(self, p: str, q: str) -> float:
        """f(p, q) of a part in a chuck."""
        m, x, tilt, radial = self.spots[p], self.spots[q], self.give["tilt"], self.give["radial"]
        formula, slope = f"1/k_radial + {p} {q}/k_tilt + K2({p})", 0.0
        sag = self.integral(f"K2({p})", f"sum of [({p} − u)³ − ({p} − v)³]/(3 EI)", 0.0, m, "mm/N", _reach(m, 3))
        numbers = f"{_n(radial)} + {_n(m)} × {_n(x)} × {_n(tilt)} + {_n(sag)}"
        if p != q:
            name, rule = f"K1({p})", f"sum of [({p} − u)² − ({p} − v)²]/(2 EI)"
            slope = self.integral(name, rule, 0.0, m, "rad/N", _reach(m, 2))
            formula += f" + ({q} − {p}) K1({p})"
            numbers += f" + ({_n(x)} − {_n(m)}) × {_n(slope)}"
        return self.add(f"f({p},{q})", formula, numbers, radial + m * x * tilt + sag + (x - m) * slope, "mm/N")

    def on_centers(self, p: str, q: str) -> float:
        """f(p, q) of a part between centers."""
        x, a, long, head, tail = self.spots[p], self.spots[q], self.beam.length, self.give["head"], self.give["tail"]
        left = self.integral(f"A({p})", "sum of (v³ − u³)/(3 EI), 0 to " + p, 0.0, x, "mm²·mm/N", _square)
        rule = f"sum of [(L − u)³ − (L − v)³]/(3 EI), {q} to L"
        right = self.integral(f"C({q})", rule, a, long, "mm²·mm/N", _reach(long, 3))
        formula = f"[(L − {p})(L − {q})(1/k_head + A({p})) + {p} {q} (1/k_tail + C({q}))"
        ends, middle = _n(long), 0.0
        numbers = (
            f"(({ends} − {_n(x)}) × ({ends} − {_n(a)}) × ({_n(head)} + {_n(left)})"
            f" + {_n(x)} × {_n(a)} × ({_n(tail)} + {_n(right)})"
        )
        if p != q:
            name, rule = f"B({p},{q})", f"sum of [L (v² − u²)/2 − (v³ − u³)/3]/EI, {p} to {q}"
            middle = self.integral(name, rule, x, a, "mm²·mm/N", _product(long))
            formula += f" + {p} (L − {q}) B({p},{q})"
            numbers += f" + {_n(x)} × ({ends} − {_n(a)}) × {_n(middle)}"
        value = (long - x) * (long - a) * (head + left) + x * a * (tail + right) + x * (long - a) * middle
        return self.add(f"f({p},{q})", formula + "]/L²", f"{numbers}) / {ends}²", value / long**2, "mm/N")

    def prop(self, f: Flexibilities, s: str, name: str, give: float, marks: str) -> Flexibilities:
        """Take the prop at s into account in every f; there is a mark on f for every prop before it."""
        both = f | {(q, p): value for (p, q), value in f.items()}
        pivot, new = both[s, s] + give, {}
        for p, q in self.pairs:
            formula = f"f{marks}({p},{q}) − f{marks}({p},{s}) f{marks}({s},{q})/[f{marks}({s},{s}) + 1/k_{name}]"
            numbers = f"{_n(f[p, q])} − {_n(both[p, s])} × {_n(both[s, q])} / ({_n(both[s, s])} + {_n(give)})"
            value = f[p, q] - both[p, s] * (both[s, q] / pivot)
            new[p, q] = self.add(f"f{marks}'({p},{q})", formula, numbers, value, "mm/N")
        return new


def deflection_working(shaft: Shaft, holding: Holding, force: Any, at: Any) -> Working:
    """The working of `deflection` at one position of the tool, to be redone by hand.

    y = F f(a, a); the lines build f up, with u and v the ends of each piece of the shaft.

    Parameters: shaft, holding and force [N, 0 or more] as in `deflection`; at, one position of the tool
    [mm, 0 to the length]. Raises WrongUnit, OutOfRange or Impossible as `deflection` does.
    Source: as in `deflection`.

    >>> from latheworks.deflection import Chuck
    >>> from latheworks.units import Q_
    >>> bar = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    >>> deflection_working(bar, Chuck(), Q_(150, "N"), Q_(80, "mm")).lines[-1].result
    '0.0598390324 mm'
    """
    with Door("deflection_working") as door:
        length = check_setup(door, shaft, holding)
        push = check_force(door, force)
        tool = check_place(door, at, "at", length, one=True)
    props = holding.props(length)
    sheet = _Sheet(shaft, holding, {"a": tool} | {_LETTER[name]: place for name, place, _ in props})
    start = sheet.on_centers if isinstance(holding, BetweenCenters) else sheet.in_chuck
    f: Flexibilities = {pair: start(*pair) for pair in sheet.pairs}
    unpropped, marks = f, ""
    for name, _, give in props:
        s = _LETTER[name]
        if f[s, s] + give > HELD_ALREADY * unpropped[s, s]:
            f = sheet.prop(f, s, name, give, marks)
            marks += "'"
    tip = f["a", "a"]
    sheet.add("y", f"F f{marks}(a,a)", f"{_n(push)} × {_n(tip)}", push * tip, "mm")
    return Working(f"{holding.title()}: deflection under the tool at {tool:g} mm", tuple(sheet.lines))
