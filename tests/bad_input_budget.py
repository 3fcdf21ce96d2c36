"""The lines of the table of calls for error budgets; see bad_input_table."""

from latheworks.budget import Contribution, error_budget, error_source, error_source_note, error_sources, fit_chance
from latheworks.units import Q_, Span
from tests.nonsense import MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

PART = Contribution("tool wear", Q_(0.005, "mm"), Q_(0.005, "mm"), "uniform", "radius")
GIVEN_BY_BUDGET = {"ErrorBudget", "FitChance"}
A_SEED = frozenset({"whole number"})

BUDGET_CALLS: dict[str, Call] = {
    "Contribution": Call(Contribution, {"name": "tool wear", "shift": Q_(0.005, "mm"), "spread": Q_(0.005, "mm"),
                                        "kind": "uniform", "on": "radius"},
                         {"name": frozenset({"text"}), "shift": MAY_BE_LEFT_OUT | MAY_BE_ZERO | {"negative"},
                          "spread": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "error_budget": Call(error_budget, {"contributions": [PART], "tolerance": Span(Q_(9.9, "mm"), Q_(10.1, "mm")),
                                        "aim": Q_(10.0, "mm"), "coverage": 2, "samples": 1000, "seed": 1},
                         {"aim": MAY_BE_LEFT_OUT, "coverage": frozenset({"whole number"}), "seed": A_SEED}),
    "error_source": Call(error_source, {"name": "outside micrometer"}),
    "error_source_note": Call(error_source_note, {"name": "outside micrometer"}),
    "error_sources": Call(error_sources),
    "fit_chance": Call(fit_chance, {"external": "M16x1.5-6g", "internal": "M16x1.5-6H", "external_budget": [PART],
                                    "internal_budget": [PART], "external_aim": Q_(14.9, "mm"),
                                    "internal_aim": Q_(15.1, "mm"), "samples": 1000, "seed": 1},
                       {**dict.fromkeys(("internal", "external_budget", "internal_budget", "external_aim",
                                         "internal_aim"), MAY_BE_LEFT_OUT), "seed": A_SEED}),
}  # fmt: skip
