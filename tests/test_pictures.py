"""Pictures show the library's numbers, say them in words, and label them with units."""

import io
import re

import numpy as np
import pytest
from PIL import Image

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflected_shape, deflection
from latheworks.pictures.bar import HOLDINGS, BarPicture, HeldBar
from latheworks.pictures.canvas import nice, plain, spread, to_png
from latheworks.pictures.flanks import ridges
from latheworks.pictures.groove import GroovePasses, GroovePicture
from latheworks.pictures.style import Look
from latheworks.pictures.thread_form import TAN, ThreadForm, ThreadPicture
from latheworks.units import Q_

LOOKS = [Look("metric"), Look("inch"), Look("metric", projector=True)]


def held_bar(length=250.0, outside=32.0, bore=20.0, holding=0, force=100.0, at=200.0, tolerance=0.05):
    shaft = Shaft.bar(Q_(length, "mm"), Q_(outside, "mm"), Q_(bore, "mm"), material=Q_(69, "GPa"))
    ways = (Chuck(), ChuckAndCenter(), BetweenCenters())
    along, push = np.linspace(0, length, 61), Q_(force, "N")
    errors = {name: 2 * deflection(shaft, way, push, Q_(along, "mm")).m_as("mm")
              for name, way in zip(HOLDINGS, ways, strict=True)}  # fmt: skip
    shape = deflected_shape(shaft, ways[holding], push, Q_(at, "mm"), Q_(along, "mm")).m_as("mm")
    here = 2 * deflection(shaft, ways[holding], push, Q_(at, "mm")).m_as("mm")
    return HeldBar(length, outside, bore, HOLDINGS[holding], force, at, tolerance, along, shape, errors, here)


def passes(shown=3, external=True, pitch=1.5, cutting=6, designation="M24x1.5-6g"):
    depth = 0.9 * np.sqrt(np.arange(1, cutting + 1) / cutting)
    area = np.diff(depth * (0.25 + depth * np.tan(np.pi / 6)), prepend=0.0)
    springs = np.zeros(2)
    return GroovePasses(
        designation, external, "radial", "equal area", pitch, 0.25, np.concatenate([depth, [0.9, 0.9]]),
        np.zeros(cutting + 2), np.concatenate([area, springs]), np.concatenate([area * 2000, springs]), cutting, shown,
        200.0, 300.0, 0.03,
    )  # fmt: skip


def form(hole=22.5, internal="M24x1.5-6H"):
    inner = ((24.0, None), (23.026, 23.226), (22.376, 22.676))
    outer = ((23.732, 23.968), (22.844, 22.994), (None, 22.344))
    rows = (("22.5 mm", 22.5, 76.98, True), ("22.8 mm", 22.8, 61.6, False))
    return ThreadForm(
        internal, "M24x1.5-6g", 1.5, (24.0, 23.026, 22.376), inner, outer, hole, "drill 22.5 mm", 76.98, rows
    )


PICTURES = [
    (BarPicture, held_bar, [{}, {"at": 10.0}, {"holding": 1}, {"length": 60.0, "at": 50.0}, {"holding": 2, "bore": 0.0},
                            {"force": 0.0}, {"tolerance": 0.5}]),
    (GroovePicture, passes, [{}, {"shown": 1}, {"shown": 8}, {"external": False}, {"cutting": 12, "shown": 9},
                             {"pitch": 3.0}]),
    (ThreadPicture, form, [{}, {"hole": 22.9}, {"hole": 20.0}, {"internal": "M24x1.5-7H"}, {"hole": 23.9}]),
]  # fmt: skip
EACH = pytest.mark.parametrize(("picture", "make", "settings"), PICTURES, ids=["bar", "groove", "thread"])


@EACH
def test_a_kept_figure_draws_what_a_new_one_does(picture, make, settings):
    kept_figure = picture(Look())
    for setting in settings * 2:
        data = make(**setting)
        assert kept_figure.show(data).png == picture(Look()).show(data).png
    with_ghost = kept_figure.show(make(), make(**settings[1])).png
    assert with_ghost == picture(Look()).show(make(), make(**settings[1])).png != kept_figure.show(make()).png


@EACH
@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_every_number_has_its_unit(picture, make, settings, look):
    shown = picture(look)
    for setting in settings:
        result = shown.show(make(**setting))
        # The numbers on an axis have their unit in its title; all other words carry their own.
        axes = shown.canvas.figure.axes
        texts = [t for each in axes for t in (*each.texts, each.xaxis.label, each.yaxis.label)]
        words = [t.get_text() for t in texts if t.get_visible()]
        own, other = ("in", "mm") if look.system == "inch" else ("mm", "in")
        for said in words:
            assert not re.search(rf"\d {other}\b|\[{other}", said), said
            bare = re.sub(r"pass \d+( of \d+)?|M24x1\.5-\S+|[\d,.]+ times", "", said)
            if re.search(r"\d", bare):
                assert re.search(rf"\d ({own}²?|N|lbf|%)(\b|\s|,|$)", bare), said
        assert any(f"[{own}" in said for said in words)
        assert re.search(rf"\d {own}\b", result.alt)
        assert not re.search(rf"\d {other}\b", result.alt.replace("drill 22.5 mm", ""))
        assert all(f"[{own}" in h or "[" in h or not re.search(r"\d", h) for h in result.table.headings)
        assert all(len(row) == len(result.table.headings) for row in result.table.rows)


@pytest.mark.parametrize("look", LOOKS[:2], ids=["metric", "inch"])
def test_bar_draws_the_library_numbers(look):
    bar, factor = held_bar(holding=1), 25.4 if look.system == "inch" else 1.0
    picture = BarPicture(look)
    shown = picture.show(bar)
    for name, curve in picture.curves.items():
        x, y = curve.get_data()
        np.testing.assert_allclose(np.asarray(x) * factor, bar.along)
        np.testing.assert_allclose(np.asarray(y) * factor, bar.errors[name])
    assert picture.here.get_ydata()[0] * factor == pytest.approx(bar.error_here)
    assert picture.band.get_xy()[:, 1].max() * factor == pytest.approx(bar.tolerance)
    assert look.mm(bar.error_here) in shown.alt
    assert look.mm(bar.largest) in shown.alt
    assert shown.table.rows[-1][2] == look.mm(bar.error[-1]).split()[0]
    # The bend is drawn so many times larger as the picture says.
    times = float(re.search(r"([\d,]+) times", picture.bend_words.get_text())[1].replace(",", ""))
    upper = picture.walls[0].get_xy()[:61, 1] * factor
    np.testing.assert_allclose(upper - bar.bore / 2, bar.shape * times, atol=1e-9)


def test_bar_says_when_it_is_outside():
    assert "outside the tolerance" in BarPicture(Look()).show(held_bar()).alt
    assert "inside the tolerance" in BarPicture(Look()).show(held_bar(tolerance=5.0)).alt


@pytest.mark.parametrize("look", LOOKS[:2], ids=["metric", "inch"])
def test_groove_draws_the_library_numbers(look):
    data, factor = passes(), 25.4 if look.system == "inch" else 1.0
    picture = GroovePicture(look)
    shown = picture.show(data)
    heights = [path.vertices[:, 1].max() * factor**2 for path in picture.bars.get_paths()]
    np.testing.assert_allclose(heights, data.area)
    deepest = picture.chips.get_paths()[0].vertices[:, 1]
    assert (deepest.max() - deepest.min()) * factor == pytest.approx(data.depth[data.shown - 1])
    assert len(picture.chips.get_paths()) == data.shown
    assert look.mm2(data.area[2]) in shown.alt
    assert "pass 3" in shown.alt
    assert shown.table.rows[6][0] == "7 (spring)"
    assert shown.table.rows[5][1] == look.mm(data.total).split()[0]


def test_thread_profile_is_a_60_degree_v():
    x = np.linspace(-0.75, 0.75, 3001)
    r = ridges(x, 1.5, TAN, 24.0, 23.026, 22.376)
    assert (r.max(), r.min()) == pytest.approx((12.0, 11.188))
    slope = np.abs(np.diff(r) / np.diff(x))
    assert slope[slope > 1].mean() == pytest.approx(np.sqrt(3), rel=1e-2)
    # At the pitch diameter ridge and groove are equally wide; the crest flat is P/8 (ISO 68-1).
    assert np.ptp(x[r > 11.513]) == pytest.approx(0.75, abs=2e-3)
    assert np.ptp(x[r > 12.0 - 1e-9]) == pytest.approx(1.5 / 8, abs=2e-3)


@pytest.mark.parametrize("look", LOOKS[:2], ids=["metric", "inch"])
def test_thread_draws_the_limits(look):
    data, factor = form(), 25.4 if look.system == "inch" else 1.0
    picture = ThreadPicture(look)
    shown = picture.show(data)
    middle = picture.bars["internal"].get_paths()[1].vertices[:, 1] * factor
    assert (middle.min(), middle.max()) == pytest.approx((0.0, 0.2))
    assert picture.faces["internal"].get_ydata().min() * factor == pytest.approx(22.376 / 2)
    assert picture.faces["external"].get_ydata().max() * factor == pytest.approx(23.968 / 2)
    assert picture.hole.get_ydata()[0] * factor == pytest.approx(22.5 / 2)
    assert look.mm(22.676) in shown.alt
    assert "inside the limits" in shown.alt
    assert "outside the limits" in picture.show(form(hole=23.0)).alt
    assert ("internal major", look.mm(24.0).split()[0], "open", "") in shown.table.rows


def test_words_from_outside_are_never_formulas():
    shown = ThreadPicture(Look()).show(form(internal=r"$\frac{1}{0}$ $x^2"))
    assert shown.png.startswith(b"\x89PNG")


def test_png_holds_the_pixels():
    pixels = np.random.default_rng(3).integers(0, 256, (31, 17, 4), dtype=np.uint8)
    read = np.asarray(Image.open(io.BytesIO(to_png(pixels))))
    np.testing.assert_array_equal(read, pixels[..., :3])


def test_small_tools():
    assert [nice(v) for v in (0.0, 1.0, 1.01, 9.0, 0.021)] == pytest.approx([1.0, 1.0, 1.25, 10.0, 0.025])
    assert nice(0.3, (1, 2, 5, 10)) == pytest.approx(0.5)
    assert [plain(v) for v in (-0.0, -0.5, 0.00005, 120.0)] == ["0", "\u22120.5", "0.00005", "120"]
    assert spread(list(range(101)), 3) == [0, 50, 100]
    assert spread([1, 2], 3) == [1, 2]
