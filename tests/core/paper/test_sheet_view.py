"""The picture of the sheet after the cut, and pictures that say their true size."""

import io

import numpy as np
import pytest
from PIL import Image

from core.paper.png import with_true_size
from core.paper.screen import for_screen, png_at
from core.paper.sheet_view import SheetLook, sheet_pixels
from core.paper.view import LONG_SIDE_PX


def look(z, *, is_clear=True):
    return SheetLook(np.asarray(z, np.float32), 0.1, 0.0, -3.0, -3.3, is_clear=is_clear)


def flat(depth, **how):
    """The colour of a floor at a depth, in even light."""
    return sheet_pixels(look(np.full((9, 9), -depth), **how))[4, 4].astype(int)


def test_deeper_is_darker_and_through_the_board_is_seen():
    tones = [flat(depth).sum() for depth in (0.0, 0.7, 1.4, 2.8)]
    assert tones == sorted(tones, reverse=True)
    board, sheet = flat(3.3), flat(2.8)
    assert board[0] > board[2] + 40  # wood is warm, clear stock is not
    assert sheet[2] >= sheet[0]


def test_a_wall_that_looks_into_the_light_is_bright_and_the_other_is_dark():
    """Light from the left: a groove's right wall looks into it, and its left wall does not."""
    z = np.zeros((9, 40))
    z[:, 10:30] = -2.0
    row = sheet_pixels(look(z))[4].astype(int).sum(axis=1)
    sheet = row[0]
    assert row[8:12].min() < 0.7 * sheet
    assert row[28:32].max() > row[20]


def png(wide, high, px_mm):
    return png_at(np.zeros((high, wide, 3), np.uint8), px_mm)


def test_a_picture_says_its_true_size():
    picture = Image.open(io.BytesIO(png(500, 300, 0.1)))
    assert 500 / picture.info["dpi"][0] * 25.4 == pytest.approx(50.0, rel=1e-3)


def test_said_once_more_the_picture_is_the_same():
    out = io.BytesIO()
    Image.fromarray(np.arange(300, dtype=np.uint8).reshape(10, 10, 3)).save(out, "PNG")
    said = Image.open(io.BytesIO(with_true_size(out.getvalue(), 0.05)))
    assert said.info["dpi"][0] == pytest.approx(508.0, rel=1e-3)
    assert (np.asarray(said) == np.asarray(Image.open(io.BytesIO(out.getvalue())))).all()


def test_for_the_screen_it_is_smaller_and_of_the_same_true_size():
    small = Image.open(io.BytesIO(for_screen(png(3 * LONG_SIDE_PX, 900, 0.1))))
    assert small.size == (LONG_SIDE_PX, 300)
    assert LONG_SIDE_PX / small.info["dpi"][0] * 25.4 == pytest.approx(0.3 * LONG_SIDE_PX, rel=1e-3)
    already = png(LONG_SIDE_PX, 900, 0.1)
    assert for_screen(already) == already
