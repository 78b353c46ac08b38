"""A picture that is too coarse or too pale is said to be, in numbers."""

import numpy as np
import pytest
from drawn import Drawing

from core.picture.colours import ColourWish, find_colours
from core.picture.fineness import coarse, good_to, touching_pairs


def test_a_coarse_picture_is_said_to_be_in_mm():
    (finding,) = coarse(0.79, 0.04)
    assert finding.code == "picture-coarse"
    assert "0.79 mm" in finding.text
    assert "0.04 mm" in finding.text
    assert "2.0 mm" in finding.text


@pytest.mark.parametrize(
    ("px_mm", "doubt_mm", "is_said"), [(0.5, 0.1, False), (0.2, 0.11, True), (0.51, 0.0, True)]
)
def test_either_a_large_pixel_or_a_doubtful_edge_is_said(px_mm, doubt_mm, is_said):
    assert bool(coarse(px_mm, doubt_mm)) is is_said


@pytest.mark.parametrize(("px_mm", "doubt_mm"), [(0.2, 0.001), (0.01, 0.02), (0.7, 0.3), (0.1, 0.0)])
def test_at_the_largest_good_height_the_picture_is_just_not_coarse(px_mm, doubt_mm):
    grown = good_to(100.0, px_mm, doubt_mm) / 100.0
    assert coarse(0.999 * grown * px_mm, 0.999 * grown * doubt_mm) == ()
    assert coarse(1.001 * grown * px_mm, 1.001 * grown * doubt_mm)


def test_labels_that_touch_are_told_once_each():
    labels = np.array([[0, 0, 1], [0, 2, 1], [0, 0, 1]], np.uint8)
    assert touching_pairs(labels, 3, 1) == ((0, 1), (0, 2), (1, 2))
    assert touching_pairs(labels, 3, 2) == ((0, 1), (0, 2))


@pytest.mark.parametrize(("grey", "noise", "is_said"), [(0.80, 0, True), (0.70, 0, False), (0.70, 14, True)])
def test_colours_that_hardly_differ_beside_their_noise_are_named(grey, noise, is_said):
    drawing = Drawing([(0.92, 0.92, 0.92), (grey, grey, grey)]).disc(130, 150, 80, 1)
    codes = [
        finding.code for finding in find_colours(drawing.picture(noise=noise), ColourWish(count=2)).findings
    ]
    assert ("low-contrast" in codes) is is_said


def test_pale_colours_that_nowhere_meet_are_no_matter():
    drawing = Drawing([(1.0, 1.0, 1.0), (0.2, 0.3, 0.6), (0.3, 0.4, 0.68)])
    picture = drawing.disc(70, 80, 40, 1).disc(180, 220, 40, 2).picture()
    assert "low-contrast" not in [finding.code for finding in find_colours(picture, ColourWish()).findings]
