"""Clamps: how far things lie from them, and a layout that keeps clear of them."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.region import Region
from core.sheet.beside_clamp import distances_to
from core.sheet.clamp import Clamp
from core.sheet.lay_out import lay_out
from core.sheet.rule import FitRule
from core.sheet.spindle_body import SpindleBody
from core.sheet.wish import StockWish
from core.sheet.zero import OF_PART, OF_STOCK, reported_zero, zero_of, zero_words

DISC = (Region(Loop.circle((30, 30), 30)),)


def laid(clamps, size=(200.0, 160.0), **more):
    wish = StockWish(*size, 3.0, 0.0, 0.1, 0.1, is_clear=True, clamps=clamps, **more)
    return lay_out(DISC, wish, FitRule(), bit_mm=2.0, travel_mm=(300, 200))


@given(st.floats(-90, 90), st.floats(-90, 90), st.booleans())
@settings(deadline=None)
def test_a_place_is_as_far_from_a_clamp_as_shapely_says(x, y, is_round):
    clamp = Clamp((5, -3), (20, 20) if is_round else (20, 31), 10, is_round)
    area = shapely.Point(5, -3).buffer(10, 2000) if is_round else shapely.box(*clamp.box())
    (found,) = distances_to(clamp, np.array([[x, y]]))
    assert found == pytest.approx(shapely.distance(area, shapely.Point(x, y)), abs=1e-5)


@given(
    st.lists(
        st.tuples(st.integers(0, 200), st.integers(0, 160), st.integers(10, 30), st.integers(1, 40)),
        min_size=1,
        max_size=3,
    )
)
@settings(deadline=None, max_examples=5)
def test_part_and_marks_keep_five_mm_from_every_clamp_beside_what_turns(said):
    clamps = tuple(Clamp((x, y), (size, size), high, x % 2 == 0) for x, y, size, high in said)
    layout = laid(clamps)
    middle = np.add(layout.shape_at, (30, 30))
    for clamp in clamps:
        turning = SpindleBody().radius_below(clamp.height_mm + 3.0, 2.0)
        path = distances_to(clamp, middle[None])[0] - 31.0
        marks = distances_to(clamp, np.array([mark.at for mark in layout.marks]))
        if path < turning + 5:  # none was found clear of all, so the path will be refused
            assert laid(()).shape_at == layout.shape_at
            return
        assert (marks - [mark.diameter_mm / 2 for mark in layout.marks] >= turning + 5).all()


def test_a_low_clamp_may_stand_nearer_than_one_that_the_nut_would_meet():
    body = SpindleBody(stick_out_mm=20, nut_mm=19, nut_length_mm=15, nose_mm=52)
    assert [body.radius_below(height, 2.0) for height in (10, 20, 20.1, 36)] == [1.0, 1.0, 9.5, 26.0]


def test_a_clamp_in_the_middle_of_the_sheet_moves_the_part_aside():
    free, moved = laid(()), laid((Clamp((60, 80), (40, 160), 12),))
    assert free.shape_at != moved.shape_at
    assert moved.shape_at[0] > 80 + 6


def test_the_zero_stands_on_a_corner_of_the_stock_or_a_point_of_the_part():
    box, stock = (10.0, 20.0, 70.0, 120.0), (200.0, 160.0)
    told = {word: zero_of(word, (1.0, 2.0), box, stock) for word in (*OF_STOCK, *OF_PART, "point")}
    assert told["stock right far"] == (200.0, 160.0)
    assert told["part middle"] == (40.0, 70.0)
    assert told["part left far"] == (10.0, 120.0)
    assert told["point"] == (1.0, 2.0)
    assert len(set(told.values())) == 14


def test_a_zero_that_misses_the_grid_is_the_nearest_point_on_it():
    assert zero_of("part middle", (0, 0), (10.0, 10.0, 20.7, 21.3), (50.0, 50.0)) == (15.5, 15.5)


def test_the_zero_is_told_in_words():
    assert zero_words("point", (0.0, 0.0)) == "stock's left near corner"
    assert zero_words("stock right far", (200.0, 160.0)) == "stock's right far corner"
    assert zero_words("part middle", (40.0, 70.0)) == "part's middle, the point 40, 70 mm of the stock"
    assert reported_zero("point", (0.0, 0.0)) == "stock corner, left and near"
    assert reported_zero("part left", (4.0, 7.0)) == "part, left"


def test_the_layout_takes_the_zero_that_was_asked_for():
    layout = laid((), zero_on="part middle")
    assert layout.zero_at == tuple(np.add(layout.shape_at, (30, 30)))
