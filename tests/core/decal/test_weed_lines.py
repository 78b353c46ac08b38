"""Weed lines: in the waste alone, from the sheet box inwards, a strip apart."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.sheet_box import sheet_box
from core.decal.weed_lines import (
    CLEAR_MM,
    LEAST_STRIP_MM,
    SHORTEST_MM,
    even_heights,
    on_grid,
    weed_line_findings,
    weed_lines,
)
from core.outline.loop import Loop

PIECES = st.lists(
    st.builds(Loop.circle, st.tuples(st.floats(20, 180), st.floats(20, 130)), st.floats(1.0, 25.0)),
    max_size=8,
)
BOX = sheet_box((5.0, 5.0, 195.0, 145.0), (5.0, 145.0)).loop


def lined(pieces, box, strip):
    return weed_lines(pieces, box, even_heights(box, strip))


@given(PIECES, st.floats(8.0, 100.0))
@settings(deadline=None, max_examples=40)
def test_lines_keep_clear_of_every_piece_and_stay_in_the_box(pieces, strip):
    lines = shapely.linestrings(np.array(lined(pieces, BOX, strip)).reshape(-1, 2, 2))
    sheet = shapely.Polygon(BOX.points)
    assert shapely.contains(shapely.buffer(sheet, 1e-9), lines).all()
    assert (shapely.length(lines) >= SHORTEST_MM).all()
    for piece in pieces:
        middle, radius = piece.points.mean(axis=0), np.ptp(piece.points[:, 0]) / 2.0
        gaps = shapely.distance(lines, shapely.Point(middle)) - radius
        assert (gaps >= CLEAR_MM - 1e-6).all()


@given(st.floats(8.0, 100.0))
def test_without_pieces_strips_are_as_asked_at_most_and_reach_the_box(strip):
    lines = lined((), BOX, strip)
    heights = [BOX.bounds()[1], *(start[1] for start, _ in lines), BOX.bounds()[3]]
    assert np.diff(heights).max() <= max(strip, LEAST_STRIP_MM) + 0.5
    assert all({start[0], end[0]} == {BOX.bounds()[0], BOX.bounds()[2]} for start, end in lines[:-1])
    assert [start[0] < end[0] for start, end in lines] == [i % 2 == 0 for i in range(len(lines))]


def test_a_line_is_broken_by_a_piece_and_a_short_end_is_left_out():
    piece = Loop(np.array([[0.0, 60.0], [100.0, 60.0], [100.0, 90.0], [0.0, 90.0]]), np.zeros(4))
    lines = lined((piece,), BOX, 76.0)
    ((start, end),) = lines
    assert (start[0], end[0]) == (pytest.approx(102.55, abs=0.01), BOX.bounds()[2])


@pytest.mark.parametrize("strip", [1e-300, 1e-9, 0.5, 9.0])
def test_strips_too_narrow_to_come_away_are_made_wider(strip):
    assert lined((), BOX, strip) == lined((), BOX, LEAST_STRIP_MM)


HEIGHTS = st.lists(st.floats(-50.0, 250.0), max_size=8)


@given(HEIGHTS)
def test_lines_placed_by_hand_lie_where_they_were_put_on_the_grid(heights):
    placed = on_grid(heights)
    _, near, _, far = BOX.bounds()
    lines = weed_lines((), BOX, placed)
    assert sorted({start[1] for start, _ in lines}) == [y for y in placed if near <= y <= far]
    assert all(min(abs(y - asked) for asked in heights) <= 0.25 for y in placed)


@given(HEIGHTS)
def test_lines_outside_and_strips_that_tear_are_told(heights):
    placed = on_grid(heights)
    _, near, _, far = BOX.bounds()
    told = [one.code for one in weed_line_findings(placed, BOX)]
    assert told.count("weed-line-outside") == sum(not near < y < far for y in placed)
    inside = [near, *(y for y in placed if near < y < far), far]
    assert told.count("weed-strip-narrow") == sum(np.diff(inside) < LEAST_STRIP_MM)
