"""The demo picture is what its script draws, and holds the traps that it promises."""

import io
from importlib import resources

import cv2
import numpy as np
import pytest
from PIL import Image

from assets.demo import draw_turtle
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture

DATA = (resources.files("assets") / "demo" / "turtle.png").read_bytes()


@pytest.fixture(scope="module")
def colours():
    return find_colours(read_picture(DATA, "turtle.png"), ColourWish())


def patches(colours, colour):
    """Areas, px, of the patches of the palette's colour nearest to the one given in 255ths."""
    index = np.linalg.norm(colours.palette * 255 - colour, axis=1).argmin()
    _, _, stats, _ = cv2.connectedComponentsWithStats((colours.labels == index).astype(np.uint8))
    return sorted(stats[1:, cv2.CC_STAT_AREA].tolist())


def test_the_checked_in_picture_is_what_the_script_draws():
    stored = np.asarray(Image.open(io.BytesIO(DATA)).convert("RGB"))
    np.testing.assert_array_equal(stored, draw_turtle.painted())


def test_it_has_exactly_its_four_colours_and_nothing_to_report(colours):
    drawn = [draw_turtle.PAPER, draw_turtle.SKIN, draw_turtle.SHELL, draw_turtle.PLATE]
    assert sorted(np.round(colours.palette * 255).astype(int).tolist()) == sorted(map(list, drawn))
    np.testing.assert_allclose(colours.palette[colours.ground] * 255, draw_turtle.PAPER, atol=0.5)
    assert colours.findings == ()


def test_its_silhouette_is_one_piece_with_a_tenth_of_margin_and_no_hole(colours):
    shape = colours.labels != colours.ground
    count, _, stats, _ = cv2.connectedComponentsWithStats(shape.astype(np.uint8), connectivity=4)
    assert count == 2
    left, top, width, height, _ = stats[1]
    assert min(left, top, 900 - left - width, 900 - top - height) >= 90
    assert height == pytest.approx(708, abs=3)
    assert cv2.connectedComponents((~shape).astype(np.uint8))[0] == 2


def test_its_islands_plates_and_seams_are_all_there(colours):
    plates = patches(colours, draw_turtle.PLATE)
    assert len(plates) == 31
    assert plates[0] < 50  # the glints
    assert len(patches(colours, draw_turtle.SHELL)) == 3  # the shell with its seams, and two eyes
    assert len(patches(colours, draw_turtle.SKIN)) == 6
