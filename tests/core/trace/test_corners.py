"""Corners sharp where they are sharp, round where they are round, blunt ends blunt."""

import numpy as np
import pytest

from core.cancel import NEVER
from core.trace.simpler import radius_of
from core.trace.trace import trace
from tests.support.drawn import (
    BLACK_ON_WHITE,
    Patch,
    Shape,
    blurred,
    colours_of,
    drawn,
    eight_bit,
    picture_of,
    polygon,
    rounded,
)
from tests.support.score import score


def hexagon(radius):
    angle = 0.13 + np.arange(6) * np.pi / 3
    corners = 60.0 * np.column_stack((np.cos(angle), np.sin(angle)))
    return rounded(corners, radius).moved(80.3, 79.8)


def scored(primitives, ring, spoil):
    shape = Shape("one", 160, 160, (Patch(1, (ring,)),), primitives)
    pixels = spoil(drawn(shape, BLACK_ON_WHITE))
    return score(trace(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER), shape)


@pytest.mark.parametrize("spoil", [eight_bit, blurred(1.0)], ids=["sharp", "blurred"])
@pytest.mark.parametrize("radius", [4.0, 7.0])
def test_a_corner_rounded_by_a_few_pixels_comes_back_as_one_arc(radius, spoil):
    found = scored(12, hexagon(radius), spoil)
    assert found.pieces == 1.0
    assert found.rms < 0.02
    assert found.greatest < 0.12


@pytest.mark.parametrize("spoil", [eight_bit, blurred(1.5)], ids=["sharp", "blurred"])
def test_a_sharp_corner_stays_sharp(spoil):
    found = scored(6, hexagon(0.0), spoil)
    assert found.pieces == 1.0
    assert found.corner < 0.06


def test_the_tip_of_a_needle_is_found_where_its_sides_meet():
    needle = polygon((-55.0, -8.0), (55.0, 0.0), (-55.0, 8.0)).turned(0.5).moved(80.3, 79.8)
    found = scored(3, needle, eight_bit)
    assert found.pieces == 1.0
    assert found.corner < 0.06


def test_the_ends_of_a_thin_bar_do_not_collapse():
    bar = polygon((-60.0, -1.25), (60.0, -1.25), (60.0, 1.25), (-60.0, 1.25)).turned(0.4).moved(80.3, 79.8)
    found = scored(4, bar, eight_bit)
    assert found.pieces == 1.0
    assert found.greatest < 0.5


def test_the_area_a_rounding_cuts_off_a_square_corner_tells_its_radius():
    cut = 3.0**2 * (1.0 - np.pi / 4.0)
    assert radius_of(cut, np.pi / 2.0) == pytest.approx(3.0)
    assert radius_of(-cut, np.pi / 2.0) == 0.0


def test_roundings_that_a_renderer_drew_in_short_chords_come_back_as_arcs():
    quarter = 13.0 * np.exp(1j * np.linspace(0.0, np.pi / 2.0, 9))
    corners = np.concatenate([(27.0 + 27.0j + quarter) * 1j**turn for turn in range(4)])
    chords = polygon(*np.column_stack((corners.real, corners.imag))).turned(0.4).moved(80.3, 79.8)
    pixels = eight_bit(drawn(Shape("one", 160, 160, (Patch(1, (chords,)),), 36), BLACK_ON_WHITE))
    (ring,) = trace(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER).chains
    assert len(ring.bulges) <= 12
