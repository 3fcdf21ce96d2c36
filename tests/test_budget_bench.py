"""The budget bench: what is drawn and said is what the library computes, in both systems and to both ends."""

import re

import numpy as np
import pytest

from latheworks.budget import Contribution, error_budget, error_source
from latheworks.errors import LatheworksError
from latheworks.threads import thread
from latheworks.units import Q_, show
from latheworks.widgets import budget_bench, display_system, fit_bench
from latheworks.widgets.budgeting import SAMPLES, SEED, in_words
from tests.benches import SYSTEMS, is_refused, to_both_ends

pytestmark = pytest.mark.usefixtures("benches")

OUT, IN = "1-12 UNF-2A", "M24x1.5-6H"


def expected(size=OUT, bent=0.05, warm=0.01, worn=0.012, dial=0.01, jaws=0.03, wires=0.005, more=()):
    """The same budget, put together here from what each control says."""
    sign = 1 if thread(size).external else -1
    items = [
        Contribution("Deflection", Q_(sign * bent, "mm"), Q_(bent / 3, "mm")),
        Contribution("Heat", Q_(-warm, "mm"), Q_(warm / 2, "mm"), "uniform"),
        Contribution("Tool wear", Q_(sign * worn / 2, "mm"), Q_(worn / 2, "mm"), "uniform", "radius"),
        Contribution("Re-zeroing", spread=Q_(dial, "mm"), kind="uniform", on="radius"),
        Contribution("Re-chucking", spread=Q_(jaws, "mm"), kind="uniform", on="radius"),
        Contribution("Instrument", spread=Q_(wires, "mm")),
        *more,
    ]
    return error_budget(items, thread(size).limits.pitch_diameter, samples=SAMPLES, seed=SEED)


def opened(size=OUT, **more):
    sizes = {
        "deflection": 0.05,
        "heat": 0.01,
        "wear": 0.012,
        "rezeroing": 0.01,
        "rechucking": 0.03,
        "instrument": 0.005,
    }
    return budget_bench(size, **{name: Q_(value, "mm") for name, value in {**sizes, **more}.items()})


@SYSTEMS
@pytest.mark.parametrize("size", [OUT, IN])
def test_what_is_drawn_is_what_the_library_computes(system, size):
    display_system.system = system
    k = 1 / 25.4 if system == "inch" else 1.0
    bench, found = opened(size), expected(size)
    picture, aim = bench.picture, found.aim.m_as("mm")

    def ends(shape):
        return shape.get_xy()[:, 0].min() / k, shape.get_xy()[:, 0].max() / k

    def span(sizes):
        return pytest.approx([sizes.min.m_as("mm") - aim, sizes.max.m_as("mm") - aim], abs=1e-9)

    assert ends(picture.sums[0]) == span(found.worst)
    assert ends(picture.sums[1]) == span(found.likely)
    for band in picture.bands:
        assert ends(band) == span(found.limits)
    reach = [3, 1, 1, 1, 1, 3]
    for path, item, times in zip(picture.causes.get_paths(), found.contributions, reach, strict=True):
        middle, half = (item.factor * part.m_as("mm") for part in (item.shift, times * item.spread))
        x = path.vertices[:, 0] / k
        assert (x.min(), x.max()) == pytest.approx((middle - half, middle + half))
    for column, shares in zip(picture.shares, (found.worst_shares, found.spread_shares), strict=True):
        assert [words.get_text() for words in column] == [f"{100 * share:.0f} %" for share in shares]
    data = bench.picture_data
    assert data.counts.sum() == found.samples
    middles = (data.edges[1:] + data.edges[:-1]) / 2
    kept = (middles > data.low) & (middles < data.high)
    assert data.counts[kept].sum() / found.samples == pytest.approx(found.chance, abs=2 / found.samples)
    assert (data.counts * middles).sum() / found.samples == pytest.approx(found.shift.m_as("mm"), abs=1e-3)


def test_colored_sizes_lie_on_their_side_of_the_limits():
    bench = opened()
    data, picture = bench.picture_data, bench.picture
    low, high = data.low, data.high
    for area, outside in ((picture.inside, False), (picture.outside, True)):
        x, y = area.get_xy().T
        full = x[y > 0]
        assert len(full)
        assert ((full <= low + 1e-9) | (full >= high - 1e-9)).all() if outside else (
            (full >= low - 1e-9) & (full <= high + 1e-9)
        ).all()  # fmt: skip


@SYSTEMS
def test_reading_and_alt_say_what_the_library_computes(system):
    display_system.system = system
    bench, found = opened(), expected()
    digits = 5 if system == "inch" else 3
    for said in (bench.alt, bench.reading_text):
        assert f"{100 * found.chance:.1f} %" in said
        assert show(found.aim.to("mm"), system, digits) in said
    assert show(found.mean.to("mm"), system, digits) in bench.reading_text
    assert f"{found.verdict[1:]}." in bench.reading.verdict
    assert in_words(found.chance) in bench.reading.verdict
    names = [item.name for item in found.contributions]
    assert f"eats most: {names[int(np.argmax(found.worst_shares))]}" in bench.reading_text


def test_what_would_help_is_what_the_library_computes_with_it_done():
    bench = opened()
    data, found = bench.picture_data, expected()
    shift = found.shift.m_as("mm")
    dialed = expected(more=[Contribution("dial", Q_(-shift, "mm"), kind="fixed")])
    assert data.dialed == dialed.chance
    assert f"{100 * dialed.chance:.1f} % come out inside" in bench.reading.notes[0]
    assert f"{show(Q_(shift, 'mm'))} deeper" in bench.reading.notes[0]
    names = ("bent", "warm", "worn", "dial", "jaws", "wires")
    at = dict(zip(names, (0.05, 0.01, 0.012, 0.01, 0.03, 0.005), strict=True))
    for name, chance in zip(names, data.halved, strict=True):
        assert chance == expected(**{name: at[name] / 2}).chance, name


def test_the_advice_follows_what_helps():
    spread = opened(deflection=0.0, heat=0.0, wear=0.0, rechucking=0.08)
    assert spread.reading.notes[0].startswith("Work on re-chucking first")
    assert opened(IN).reading.notes[0].count("deeper") == 1
    warm = opened(deflection=0.0, wear=0.0, heat=0.045)
    assert "less deep" in warm.reading.notes[0]
    fine = opened(deflection=0.0, heat=0.0, wear=0.0, rechucking=0.0)
    assert fine.reading.good
    assert "Nothing needs more work" in fine.reading.notes[0]
    assert fine.reading.verdict.startswith("As good as every part")


@pytest.mark.parametrize(("chance", "said"), [
    (1.0, "every part"), (0.0, "no part"), (0.998, "998 of 1000"), (0.61, "61 of 100"), (0.004, "4 of 1000"),
])  # fmt: skip
def test_a_chance_in_words(chance, said):
    assert said in in_words(chance)


@SYSTEMS
@pytest.mark.parametrize("size", [OUT, IN])
def test_without_a_cause_every_part_is_inside_and_with_all_at_their_most_hardly_one(system, size):
    display_system.system = system
    bench = opened(size)
    to_both_ends(bench)
    bench.set(**dict.fromkeys(bench.controls, Q_(0, "mm")))
    assert bench.picture_data.chance == 1.0
    bench.set(**dict.fromkeys(bench.controls, Q_(1, "mm")))
    assert bench.picture_data.chance < 0.2


@SYSTEMS
def test_the_sums_of_a_kept_setting_stay_on_the_sheet(system):
    display_system.system = system
    bench = budget_bench()
    bench.keep()
    for name in bench.demonstrations():
        bench.demo(name)
        assert np.nanmax(bench.picture.kept_sums.get_xdata()) <= max(bench.picture.bars.get_xlim()), name


def test_table_gives_causes_sums_and_tolerance():
    bench, found = opened(), expected()
    rows = {row[0]: row[1:] for row in bench.table.rows}
    aim = found.aim.m_as("mm")
    assert float(rows["worst case"][1]) == pytest.approx(found.worst.max.m_as("mm") - aim, abs=6e-5)
    assert float(rows["tolerance"][0]) == pytest.approx(found.limits.min.m_as("mm") - aim, abs=6e-5)
    assert rows["Re-chucking"][:2] == ("-0.0600", "0.0600")


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("deflection", "2 mm", r"too large; the most is 1 mm\. Type"), ("heat", "-0.01 mm", r"too small"),
        ("wear", "12 N", r"Tool wear"), ("instrument", "0,005 mm", r"comma"), ("rechucking", "$x$ <script>", r"chuck"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_the_picture_stays(name, typed, said):
    is_refused(budget_bench(), name, typed, said)


@pytest.mark.parametrize("wrong", [
    {"size": "nut"}, {"size": "1/2-14 NPT"}, {"deflection": 0.05}, {"heat": Q_(-1, "mm")}, {"wear": Q_(1, "N")},
    {"instrument": Q_(2, "mm")}, {"size": 3},
])  # fmt: skip
def test_a_bench_refuses_a_wrong_opening(wrong):
    with pytest.raises(LatheworksError, match=r"[Tt]ry|Type|expected"):
        budget_bench(**wrong)


def test_opening_values_are_those_of_the_library():
    bench = budget_bench()
    assert bench.value("rezeroing") == error_source("re-zeroing the cross slide").spread
    assert bench.value("wear") == 2 * error_source("tool wear between corrections").spread
    assert bench.value("instrument") == error_source("three wires and micrometer").spread


def test_a_refusal_names_the_value_to_type_and_not_the_argument():
    bench = fit_bench()
    bench.enter("internal", "M24x1.5-6H")
    assert re.search(r"Type 1-12 UNF-2B\.$", bench.error), bench.error
    assert "internal=" not in bench.error
