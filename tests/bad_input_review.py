"""Good calls of the review of a plan; nothing else makes sense there."""

from latheworks.plan import barrel_plan, review
from tests.nonsense import Call

REVIEW_CALLS: dict[str, Call] = {
    "review": Call(review, {"plan": barrel_plan(), "system": "inch"}),
    "Finding.in_system": Call(review(barrel_plan()).findings[0].in_system, {"system": "inch"}),
    "Review.of": Call(review(barrel_plan()).of, {"level": "stop"}),
    "Review.row": Call(review(barrel_plan()).row, {"name": "body"}),
}
GIVEN_BY_REVIEW = {"Finding", "FeatureRow", "OperationRow", "Review", "Where"}
