"""Colors: contrast on everything they stand on, and meanings that meet kept apart for every eye, and in grey.

Conversions, simulated eyes and differences are those of the general-purpose library colorspacious. Its eyes are of
Machado, Oliveira and Fernandes 2009, "A physiologically-based model for simulation of color vision deficiency",
at full severity; its color difference is the Euclidean one in CAM02-UCS (Luo, Cui and Li 2006).
"""

import itertools
import re

import colorspacious
import numpy as np
import pytest

from latheworks.pictures.style import FILL, INK, LINE, PAPER, TOGETHER
from latheworks.widgets import exercise_style, style_sheet

EYES = ("usual", "protanomaly", "deuteranomaly", "tritanomaly")
# WCAG 2.1, success criteria 1.4.3 (words) and 1.4.11 (lines).
WORDS, LINES = 4.5, 3.0
# A difference of 1 can just be seen side by side; thin lines apart need many. Our choice; common practice, no source.
APART, APART_IN_GREY = 15.0, 15.0
COLOR = re.compile(r"#(?:[0-9a-f]{6}|[0-9a-f]{3})\b")
RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


def light(color):
    """Red, green and blue from 0 to 1."""
    digits = color[1:] if len(color) == 7 else "".join(2 * each for each in color[1:])
    return np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)]) / 255


def contrast(one, other):
    """WCAG 2.1's contrast ratio; relative luminance is the Y of CIE XYZ."""
    low, high = sorted(float(colorspacious.cspace_convert(light(each), "sRGB1", "XYZ1")[1]) for each in (one, other))
    return (high + 0.05) / (low + 0.05)


def seen(color, eye):
    if eye == "usual":
        return light(color)
    space = {"name": "sRGB1+CVD", "cvd_type": eye, "severity": 100}
    return np.clip(colorspacious.cspace_convert(light(color), space, "sRGB1"), 0, 1)


def lightness(color):
    """L* of CIELAB: what a grey print keeps of a color."""
    return float(colorspacious.cspace_convert(light(color), "sRGB1", "CIELab")[0])


@pytest.mark.parametrize("meaning", INK)
def test_contrast_on_paper(meaning):
    assert contrast(INK[meaning], PAPER) >= (LINES if meaning == "hatch" else WORDS)


@pytest.mark.parametrize(("meaning", "fill"), itertools.product(INK, FILL))
def test_contrast_of_lines_on_what_is_filled(meaning, fill):
    assert contrast(INK[meaning], FILL[fill]) >= LINES


@pytest.mark.parametrize("sheet", [style_sheet.STYLE, exercise_style.STYLE], ids=["bench", "exercise"])
def test_contrast_of_words_in_the_style_sheets(sheet):
    papers, inks = {PAPER}, set()
    for _, body in RULE.findall(sheet.replace("<style>", "").replace("</style>", "")):
        for name, value in re.findall(r"([\w-]+):\s*([^;]+)", body):
            found = COLOR.findall(value.lower())
            if name == "background":
                papers |= set(found)
            elif name in ("color", "--jp-ui-font-color1", "--jp-widgets-label-color"):
                inks |= set(found)
    # A slider's handle and track are lines on paper, not paper for words.
    handles = {INK["hatch"], INK["limit"]} & papers
    assert all(contrast(each, PAPER) >= LINES for each in handles)
    for ink, paper in itertools.product(inks, papers - handles):
        assert contrast(ink, paper) >= WORDS, (ink, paper)


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("pair", TOGETHER, ids=" and ".join)
def test_meanings_that_meet_stay_apart(pair, eye):
    one, other = (seen(INK[meaning], eye) for meaning in pair)
    assert float(colorspacious.deltaE(one, other, input_space="sRGB1")) >= APART


@pytest.mark.parametrize("pair", TOGETHER, ids=" and ".join)
def test_meanings_that_meet_stay_apart_in_grey(pair):
    by_line = LINE.get(pair[0], "-") != LINE.get(pair[1], "-")
    assert by_line or abs(lightness(INK[pair[0]]) - lightness(INK[pair[1]])) >= APART_IN_GREY


def test_each_line_style_is_its_own():
    assert len({str(LINE[name]) for name in ("first", "second", "third", "kept", "finished", "center line")}) == 6
