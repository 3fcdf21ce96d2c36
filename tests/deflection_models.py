"""The same part in two general-purpose tools: a frame solver (PyNite) and a symbolic beam (sympy).

Neither shares a line with our kernel. Sizes in mm, forces in N; a stiffness may be infinite.
"""

import math
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import sympy
from Pynite import FEModel3D
from sympy.physics.continuum_mechanics.beam import Beam


@dataclass(frozen=True)
class Case:
    """One part in one holding; `holding` names the stiffnesses as our own holdings do."""

    name: str
    sections: tuple[tuple[float, float, float], ...]
    holding: dict[str, float]
    rest: tuple[float, float] | None = None
    modulus: float = 69000.0
    tools: tuple[float, ...] = field(default=(0.21, 0.5, 0.83, 1.0))

    @property
    def length(self) -> float:
        return sum(size for size, _, _ in self.sections)

    @property
    def at(self) -> np.ndarray:
        return np.array(self.tools) * self.length


def moment(outside: float, bore: float) -> float:
    return math.pi / 64 * (outside**4 - bore**4)


def _springs(case: Case) -> list[tuple[float, str, float]]:
    """Every support as (position, direction, stiffness)."""
    where = {"tilt": 0.0, "radial": 0.0, "head": 0.0, "tail": case.length, "center": case.length}
    springs = [(where[n], "RZ" if n == "tilt" else "DY", k) for n, k in case.holding.items()]
    return springs + ([(case.rest[0], "DY", case.rest[1])] if case.rest else [])


def frame(case: Case, force: float, at: np.ndarray, along: np.ndarray | None = None, couple: float = 0.0) -> np.ndarray:
    """PyNite's deflection at `along` (rows: tool positions), or under the tool when `along` is left out.

    A couple at the tool is positive where it lifts the far side away from the tool.
    """
    ends = np.cumsum([size for size, _, _ in case.sections])
    spots = np.unique(np.concatenate([[0.0], ends, at, [] if along is None else along,
                                      [case.rest[0]] if case.rest else []]))  # fmt: skip
    name = {spot: f"N{i}" for i, spot in enumerate(spots)}
    model = FEModel3D()
    model.add_material("work", case.modulus, case.modulus / 2.6, 0.3, 0.0)
    for i, (_, outside, bore) in enumerate(case.sections):
        inertia = moment(outside, bore)
        model.add_section(f"S{i}", math.pi / 4 * (outside**2 - bore**2), inertia, inertia, 2 * inertia)
    for spot in spots:
        model.add_node(name[spot], float(spot), 0, 0)
    for i, (near, far) in enumerate(pairwise(spots)):
        section = int(np.searchsorted(ends, (near + far) / 2))
        model.add_member(f"M{i}", name[near], name[far], "work", f"S{section}")
    rigid = {(spot, axis) for spot, axis, k in _springs(case) if math.isinf(k)}
    for spot in {0.0, *(spot for spot, _, _ in _springs(case))}:
        near = spot == 0.0
        model.def_support(name[spot], near, (spot, "DY") in rigid, near, near, near, (spot, "RZ") in rigid)
    for spot, axis, k in _springs(case):
        if not math.isinf(k):
            model.def_support_spring(name[spot], axis, k)
    for i, tool in enumerate(at):
        model.add_node_load(name[tool], "FY", -force, case=f"C{i}")
        model.add_node_load(name[tool], "MZ", -couple, case=f"C{i}")
        model.add_load_combo(f"L{i}", {f"C{i}": 1.0})
    # Dense is the quicker choice for models this small, and the benchmark must not flatter us.
    model.analyze_linear(check_stability=False, sparse=False)
    return np.array([
        [-model.nodes[name[x]].DY[f"L{i}"] for x in ([tool] if along is None else along)] for i, tool in enumerate(at)
    ]).squeeze()  # fmt: skip


def symbolic(case: Case, force: float, tool: float, along: np.ndarray) -> np.ndarray:
    """sympy's deflection at `along`, with the springs put in by compatibility; at most two sections in a chuck."""
    exact = sympy.Rational
    long, push, at = exact(case.length), exact(force), exact(tool)
    modulus = exact(case.modulus)
    inertias = [exact(moment(outside, bore)) for _, outside, bore in case.sections]
    chucked = "head" not in case.holding
    beam = Beam(exact(case.sections[0][0]), modulus, inertias[0])
    for (size, _, _), inertia in zip(case.sections[1:], inertias[1:], strict=True):
        beam = beam.join(Beam(exact(size), modulus, inertia), via="fixed")
    props = [s for s in _springs(case) if s[1] == "DY" and (s[0] > 0 if chucked else s[0] not in (0, case.length))]
    unknown = sympy.symbols(f"P:{len(props)}") if props else ()
    loads = [(-push, at), *((p, exact(s[0])) for p, s in zip(unknown, props, strict=True))]
    for load, spot in loads:
        beam.apply_load(load, spot, -1)
    upward, turning = sum(p for p, _ in loads), sum(p * spot for p, spot in loads)
    give = {n: (0 if math.isinf(k) else 1 / exact(k)) for n, k in case.holding.items()}
    first, second = sympy.symbols("first second")
    if chucked:
        beam.apply_load(first, 0, -1)
        beam.apply_load(second, 0, -2)
        beam.bc_deflection, beam.bc_slope = [(0, 0)], [(0, 0)]
        rigid = (upward * give["radial"], turning * give["tilt"])
    else:
        beam.apply_load(first, 0, -1)
        beam.apply_load(second, long, -1)
        beam.bc_deflection = [(0, 0), (long, 0)]
        left, right = (upward - turning / long) * give["head"], turning / long * give["tail"]
        rigid = (left, (right - left) / long)
    beam.solve_for_reaction_loads(first, second)
    if len(inertias) > 1:
        # sympy 1.14 turns a joined beam's curve upside down while it lists its wall; the wall is built in anyhow.
        beam.bc_deflection, beam.bc_slope = [], []
    curve = beam.deflection()

    def bend(spot: object) -> object:
        return curve.subs(beam.variable, spot) + rigid[0] + rigid[1] * spot

    props_give = [0 if math.isinf(k) else 1 / exact(k) for _, _, k in props]
    equations = [bend(exact(s[0])) + p * g for s, p, g in zip(props, unknown, props_give, strict=True)]
    answer = dict(zip(unknown, *sympy.linsolve(equations, unknown), strict=True)) if unknown else {}
    return np.array([-float(sympy.sympify(bend(exact(float(x)))).subs(answer)) for x in along])
