"""A review of the barrel's plan, cold and warm, and single operations judged.

python -m tests.benchmarks.review_speed
"""

from latheworks.plan import barrel_plan, review
from latheworks.plan.job import Job, forget, hold, job_of, plain_operation
from latheworks.plan.judge import judge
from tests.benchmarks.deflection_speed import median


def cold(plan: object) -> object:
    """A review with nothing kept of the one before; published tables stay read."""
    forget()
    return review(plan)


def judged(job: Job, work: list[tuple[object, ...]]) -> None:
    """Every operation judged anew, on the shape that it meets."""
    job.cache.clear()
    for held, shape, op in work:
        judge(job, held, shape, op)  # type: ignore[arg-type]


def main() -> None:
    """Measure and print."""
    plan = barrel_plan()
    review(plan)
    count = plan.operations
    print(f"review of {count} operations, cold  {median(lambda: cold(plan), 50):7.2f} ms  (limit 30 ms)")
    print(f"the same again, all of it kept   {median(lambda: review(plan), 100):7.2f} ms")
    job = job_of(plan.part, plan.machine, plan.tools)
    work: list[tuple[object, ...]] = []
    shape = plan.part.stock
    for setup in plan.setups:
        held = hold(job, setup, shape)
        for written in setup.operations:
            op = plain_operation(written)
            work.append((held, shape, op))
            shape = judge(job, held, shape, op).taken.after
    each = median(lambda: judged(job, work), 50) / count
    print(f"one operation judged, cold       {each:7.2f} ms, so {1000 / each:,.0f} a second")
    again = median(lambda: [judge(job, *one) for one in work], 100) / count  # type: ignore[arg-type]
    print(f"one operation judged, kept       {1000 * again:7.1f} us, so {1000 / again:,.0f} a second")


if __name__ == "__main__":
    main()
