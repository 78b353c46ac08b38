from math import inf

import pytest
import shapely

from core.findings import Level
from core.proof.marks import bored_mark_error, drawn_mark_error, mark_findings, round_area
from tests.core.proof.claimed import MARKS, circle, claims, layers

CLAIMED = claims().marks


def drawn(diameter, moves=((0.0, 0.0),) * 3):
    places = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(MARKS, moves, strict=True)]
    return layers(marks=[circle(at, diameter) for at in places])


def test_marks_where_they_are_claimed_are_off_by_nothing():
    assert drawn_mark_error(drawn(3.5), CLAIMED, is_film=False) == pytest.approx(0.0, abs=1e-9)
    assert drawn_mark_error(drawn(3.0), CLAIMED, is_film=True) == pytest.approx(0.0, abs=1e-9)


def test_one_mark_that_was_moved_is_off_by_just_its_way():
    moved = drawn(3.5, ((0, 0), (0.003, 0.004), (0, 0)))
    assert drawn_mark_error(moved, CLAIMED, is_film=False) == pytest.approx(0.005, abs=1e-6)


@pytest.mark.parametrize("wrong", [drawn(3.4), layers(marks=[]), layers(marks=drawn(3.5).of("marks")[:2])])
def test_a_mark_of_another_size_or_missing_is_off_without_bound(wrong):
    assert drawn_mark_error(wrong, CLAIMED, is_film=False) == inf


def test_a_mark_too_many_is_off_without_bound():
    more = layers(marks=(*drawn(3.5).of("marks"), circle((30, 30), 3.5)))
    assert drawn_mark_error(more, CLAIMED, is_film=False) == inf


def bored(moves=(0.0, 0.0, 0.0), diameter=3.5):
    return shapely.union_all(
        [
            shapely.Point(x + dx, y).buffer(diameter / 2, quad_segs=200)
            for (x, y), dx in zip(MARKS, moves, strict=True)
        ]
    )


def test_a_hole_is_measured_where_it_was_bored():
    assert bored_mark_error(bored(), CLAIMED) == pytest.approx(0.0, abs=1e-6)
    assert bored_mark_error(bored((0, 0.02, 0)), CLAIMED) == pytest.approx(0.02, abs=1e-6)


def test_a_hole_that_is_missing_too_wide_or_has_a_core_is_no_mark():
    assert bored_mark_error(shapely.Polygon(), CLAIMED) == inf
    assert bored_mark_error(bored(diameter=3.6), CLAIMED) == inf
    core = shapely.Point(MARKS[0][0] + 1, MARKS[0][1]).buffer(0.3)
    assert bored_mark_error(bored().difference(core), CLAIMED) == inf
    crumb, core = (shapely.Point(MARKS[0][0] + 1, MARKS[0][1]).buffer(by, 64) for by in (0.13, 0.145))
    assert bored_mark_error(bored().difference(crumb), CLAIMED) < inf  # 0.053 mm2: a chip like any other
    assert bored_mark_error(bored().difference(core), CLAIMED) == inf  # 0.066 mm2
    slot = shapely.box(5, 4.9, 55, 5.1)
    assert bored_mark_error(bored().union(slot), CLAIMED) == inf


def test_a_round_area_has_the_diameter_of_its_circle():
    centre, diameter = round_area(shapely.Point(3, 4).buffer(2.5, quad_segs=500))
    assert centre == pytest.approx((3, 4))
    assert diameter == pytest.approx(5.0, abs=1e-4)


def test_marks_that_are_off_are_a_stop_that_names_the_file():
    assert mark_findings("part.svg", 0.0009) == ()
    for error in (0.0011, inf):
        (stop,) = mark_findings("part.svg", error)
        assert (stop.level, stop.code) == (Level.STOP, "marks-differ")
        assert "part.svg" in stop.text
