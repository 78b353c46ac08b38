"""The ground, and what lies round a picture without being part of it."""

import io

import numpy as np
import pytest
from drawn import BLACK, BLUE, GREEN, RED, WHITE, Drawing
from PIL import Image

from core.errors import UnreadableFile
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture

PROPOSE = ColourWish()


def codes(colours):
    return [finding.code for finding in colours.findings]


def shape_of(colours):
    return colours.labels != colours.ground


def turtle():
    """A shape with a margin, in the middle of the page."""
    return Drawing([WHITE, GREEN, BLACK]).disc(130, 150, 60, 1)


@pytest.mark.parametrize("ground", [WHITE, BLACK, BLUE])
def test_what_borders_on_the_picture_is_the_ground(ground):
    colours = find_colours(Drawing([ground, RED]).disc(130, 150, 100, 1).picture(), PROPOSE)
    np.testing.assert_allclose(colours.palette[colours.ground], ground, atol=0.003)


def test_a_ground_that_is_asked_for_is_taken():
    picture = Drawing([WHITE, RED, BLUE]).disc(130, 150, 70, 1).disc(130, 150, 30, 2).picture()
    colours = find_colours(picture, ColourWish(ground=(0.2, 0.2, 0.7)))
    np.testing.assert_allclose(colours.palette[colours.ground], BLUE, atol=0.003)


@pytest.mark.parametrize("art", [WHITE, BLACK, RED])
def test_what_is_transparent_is_the_ground(art):
    share = Drawing([WHITE, BLACK]).disc(130, 150, 70, 1).box(0, 140, 260, 160, 1).shares()[..., 1]
    rgba = np.dstack([np.full_like(share, level) for level in art] + [share])
    out = io.BytesIO()
    Image.fromarray(np.round(rgba * 255).astype(np.uint8)).save(out, "PNG")
    colours = find_colours(read_picture(out.getvalue(), "x"), PROPOSE)
    assert len(colours.palette) == 2
    clear = np.abs(share - 0.5) > 0.02
    np.testing.assert_array_equal(shape_of(colours)[clear], (share > 0.5)[clear])


@pytest.mark.parametrize("inset", [2, 6, 12])
@pytest.mark.parametrize("width", [2, 3])
@pytest.mark.parametrize("colour", [1, 2])
def test_a_line_drawn_round_the_picture_is_no_edge(inset, width, colour):
    framed = Drawing([WHITE, GREEN, BLACK]).box(inset, inset, 260 - inset, 300 - inset, colour)
    framed.box(inset + width, inset + width, 260 - inset - width, 300 - inset - width, 0)
    colours = find_colours(framed.disc(130, 150, 60, 1).picture(), PROPOSE)
    bare = find_colours(turtle().picture(), PROPOSE)
    np.testing.assert_array_equal(shape_of(colours), shape_of(bare))
    assert len(colours.palette) == 2
    assert "frame-ignored" in codes(colours)


@pytest.mark.parametrize("sides", ["left", "left top", "left top right bottom"])
def test_the_dark_rim_of_a_scan_is_no_edge(sides):
    rim = turtle()
    boxes = {
        "left": (0, 0, 12, 300),
        "top": (0, 0, 260, 9),
        "right": (250, 0, 260, 300),
        "bottom": (0, 285, 260, 300),
    }
    for side in sides.split():
        rim.box(*boxes[side], 2)
    colours = find_colours(rim.picture(), PROPOSE)
    np.testing.assert_array_equal(shape_of(colours), shape_of(find_colours(turtle().picture(), PROPOSE)))
    assert "frame-ignored" in codes(colours)
    assert "touches-border" not in codes(colours)


def test_a_sign_with_a_narrow_white_margin_is_no_frame():
    sign = Drawing([WHITE, RED]).box(8, 8, 252, 292, 1).disc(130, 150, 40, 0)
    colours = find_colours(sign.picture(), PROPOSE)
    np.testing.assert_allclose(colours.palette[colours.ground], WHITE, atol=0.003)
    assert codes(colours) == []


def test_a_round_border_belongs_to_the_shape():
    badge = Drawing([WHITE, BLACK], 300, 300).disc(150, 150, 140, 1).disc(150, 150, 130, 0)
    colours = find_colours(badge.disc(150, 150, 50, 1).picture(), PROPOSE)
    assert shape_of(colours)[150, 15]
    assert codes(colours) == []


def test_a_frame_round_nothing_is_no_shape():
    empty = Drawing([WHITE, BLACK]).box(5, 5, 255, 295, 1).box(8, 8, 252, 292, 0)
    with pytest.raises(UnreadableFile, match="one colour only"):
        find_colours(empty.picture(), PROPOSE)


def test_a_shape_that_runs_off_the_picture_is_told_with_its_place():
    cut = Drawing([WHITE, RED]).disc(130, 150, 60, 1).box(120, 200, 150, 300, 1)
    colours = find_colours(cut.picture(), PROPOSE)
    found = next(finding for finding in colours.findings if finding.code == "touches-border")
    assert found.at == pytest.approx((135, 0.5), abs=1)
