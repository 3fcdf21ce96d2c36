"""The working of a deflection: every line of it, to be redone with a pocket calculator."""

from __future__ import annotations

import math
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
_GIVE = "stiffness of the holding, as given or its teaching default"
_FLEX = "µm/N"
_SECTION = "second moment of a round section, any text on strength of materials"
_LETTER = {"center": "L", "rest": "r"}

Flexibilities = dict[tuple[str, str], float]
Term = Callable[[float, float], tuple[str, float]]


DIGITS = 6


def _n(value: float) -> str:
    """A number as it is put into a formula, written out in six digits; in brackets when its sign would be misread."""
    if value == 0:
        return "0"
    places = max(DIGITS - 1 - math.floor(math.log10(abs(value))), 0)
    text = f"{round(value, DIGITS - 1 - math.floor(math.log10(abs(value)))):.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
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
    """Collects the lines, and hands each value on to the lines that use it.

    The lines are in kN, mm and GPa, so that a flexibility comes out in micrometers per newton, a size of number that
    can be written down; kernels hold the same in N and mm.
    """

    def __init__(self, shaft: Shaft, holding: Holding, spots: dict[str, float]) -> None:
        self.lines: list[Line] = []
        self.beam = shaft.beam
        self.give = {name: 1000 * softness for name, softness in holding.compliances.items()}
        # In order along the part: every pair is named near end first.
        self.spots = dict(sorted(spots.items(), key=lambda spot: spot[1]))
        self.pairs = [(p, q) for i, p in enumerate(self.spots) for q in list(self.spots)[i:]]
        self.rigidity = []
        modulus = float(shaft.elastic_modulus.m_as(U.MPa)) / 1000
        for i, (section, softness) in enumerate(zip(shaft.sections, self.beam.softness, strict=True), 1):
            outside, bore = (_n(float(size.m_as(U.mm))) for size in section[1:])
            numbers = f"{_n(modulus)} × pi / 64 × ({outside}⁴ − {bore}⁴)"
            value = 1 / (1000 * softness)
            self.rigidity.append(self.add(f"EI{i}", "E [GPa] pi/64 (D⁴ − d⁴)", numbers, value, "kN mm²", _SECTION))

    def add(self, symbol: str, formula: str, numbers: str, value: float, unit: str, source: str = _BEAM) -> float:
        """Write a line and return its value."""
        self.lines.append(Line(symbol, formula, numbers, f"{_n(value)} {unit}", source))
        return value

    def over(self, give: float, product: float = 1.0) -> str:
        """Something over a stiffness, as it is put in: the stiffness itself is what a reader knows."""
        return "0" if give == 0 else f"{_n(product)} / {_n(1 / give)}"

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
        """f(p, q) of a part in a chuck: what the jaws shift, what the chuck tilts, what the part itself bends."""
        m, x, tilt, radial = self.spots[p], self.spots[q], self.give["tilt"], self.give["radial"]
        pair = f"({p},{q})"
        self.add(f"shift{pair}", "1/k_radial [N/µm]", self.over(radial), radial, _FLEX, _GIVE)
        place = f"{_n(m)} × {_n(x)}"
        numbers = f"{place} / {_n(1 / tilt)}" if tilt else "0"
        leans = self.add(f"tilt{pair}", f"{p} {q}/k_tilt [N m/rad]", numbers, m * x * tilt, _FLEX, _GIVE)
        name = f"bending{pair}" if p == q else f"K2({p})"
        sag = self.integral(name, f"sum of [({p} − u)³ − ({p} − v)³]/(3 EI)", 0.0, m, _FLEX, _reach(m, 3))
        if p != q:
            rule = f"sum of [({p} − u)² − ({p} − v)²]/(2 EI)"
            slope = self.integral(f"K1({p})", rule, 0.0, m, "mrad/N", _reach(m, 2))
            numbers = f"{_n(sag)} + ({_n(x)} − {_n(m)}) × {_n(slope)}"
            rule, sag = f"K2({p}) + ({q} − {p}) K1({p})", sag + (x - m) * slope
            self.add(f"bending{pair}", rule, numbers, sag, _FLEX)
        numbers = f"{_n(radial)} + {_n(leans)} + {_n(sag)}"
        return self.add(f"f{pair}", "shift + tilt + bending", numbers, radial + leans + sag, _FLEX)

    def on_centers(self, p: str, q: str) -> float:
        """f(p, q) of a part between centers: what the two centers give, and what the part itself bends."""
        x, a, long, head, tail = self.spots[p], self.spots[q], self.beam.length, self.give["head"], self.give["tail"]
        pair, ends = f"({p},{q})", f"{_n(long)}²"
        near, far = f"({_n(long)} − {_n(x)}) × ({_n(long)} − {_n(a)})", f"{_n(x)} × {_n(a)}"
        terms = [f"{place} / {_n(1 / give)}" for place, give in ((near, head), (far, tail)) if give]
        given = ((long - x) * (long - a) * head + x * a * tail) / long**2
        formula = f"[(L − {p})(L − {q})/k_head + {p} {q}/k_tail]/L², k in N/µm"
        numbers = f"({' + '.join(terms)}) / {ends}" if terms else "0"
        self.add(f"shift{pair}", formula, numbers, given, _FLEX, _GIVE)
        left = self.integral(f"A({p})", "sum of (v³ − u³)/(3 EI), 0 to " + p, 0.0, x, _FLEX, _square)
        rule = f"sum of [(L − u)³ − (L − v)³]/(3 EI), {q} to L"
        right = self.integral(f"C({q})", rule, a, long, _FLEX, _reach(long, 3))
        formula, middle = f"[(L − {p})(L − {q}) A({p}) + {p} {q} C({q})", 0.0
        numbers = f"({near} × {_n(left)} + {far} × {_n(right)}"
        if p != q:
            name, rule = f"B({p},{q})", f"sum of [L (v² − u²)/2 − (v³ − u³)/3]/EI, {p} to {q}"
            middle = self.integral(name, rule, x, a, _FLEX, _product(long))
            formula += f" + {p} (L − {q}) B({p},{q})"
            numbers += f" + {_n(x)} × ({_n(long)} − {_n(a)}) × {_n(middle)}"
        bent = ((long - x) * (long - a) * left + x * a * right + x * (long - a) * middle) / long**2
        self.add(f"bending{pair}", formula + "]/L²", f"{numbers}) / {ends}", bent, _FLEX)
        return self.add(f"f{pair}", "shift + bending", f"{_n(given)} + {_n(bent)}", given + bent, _FLEX)

    def prop(self, f: Flexibilities, s: str, name: str, give: float, marks: str) -> Flexibilities:
        """Take the prop at s into account in every f; there is a mark on f for every prop before it."""
        both = f | {(q, p): value for (p, q), value in f.items()}
        pivot, new = both[s, s] + give, {}
        for p, q in self.pairs:
            formula = f"f{marks}({p},{q}) − f{marks}({p},{s}) f{marks}({s},{q})/[f{marks}({s},{s}) + 1/k_{name}]"
            numbers = f"{_n(f[p, q])} − {_n(both[p, s])} × {_n(both[s, q])} / ({_n(both[s, s])} + {self.over(give)})"
            value = f[p, q] - both[p, s] * (both[s, q] / pivot)
            new[p, q] = self.add(f"f{marks}'({p},{q})", formula, numbers, value, _FLEX)
        return new


def deflection_working(shaft: Shaft, holding: Holding, force: Any, at: Any) -> Working:
    """The working of `deflection` at one position of the tool, to be redone by hand.

    y = F f(a, a); the lines build f up in six digits, with u and v the ends of each piece of the shaft. What the
    chuck shifts (k_radial) and tilts (k_tilt), or the centers give, and what the part bends have a line each.

    Parameters: shaft, holding and force [N, 0 or more] as in `deflection`; at, one position of the tool
    [mm, 0 to the length]. Raises WrongUnit, OutOfRange or Impossible as `deflection` does.
    Source: as in `deflection`.

    >>> from latheworks.deflection import Chuck
    >>> from latheworks.units import Q_
    >>> bar = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa"))
    >>> deflection_working(bar, Chuck(), Q_(150, "N"), Q_(80, "mm")).lines[-1].result
    '0.059839 mm'
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
    for name, _, softness in props:
        s, give = _LETTER[name], 1000 * softness
        if f[s, s] + give > HELD_ALREADY * unpropped[s, s]:
            f = sheet.prop(f, s, name, give, marks)
            marks += "'"
    tip = f["a", "a"]
    sheet.add("y", f"F f{marks}(a,a), 1000 µm to the mm", f"{_n(push)} × {_n(tip)} / 1000", push * tip / 1000, "mm")
    return Working(f"{holding.title()}: deflection under the tool at {tool:g} mm", tuple(sheet.lines))
