"""Error budgets: what each cause adds to a size, what all of them add together, and the chance that the part is good.

A budget is as good as the numbers put into it. It plans the work; only measuring says what the part became.
"""

from latheworks.budget.chances import FitChance
from latheworks.budget.contribution import Contribution, error_source, error_source_note, error_sources
from latheworks.budget.error_budget import error_budget
from latheworks.budget.fit_chance import fit_chance
from latheworks.budget.result import ErrorBudget

__all__ = [
    "Contribution", "ErrorBudget", "FitChance", "error_budget", "error_source", "error_source_note", "error_sources",
    "fit_chance",
]  # fmt: skip
