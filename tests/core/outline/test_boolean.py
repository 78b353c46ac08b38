"""Union, intersection and difference: exact pieces, exact corners, and laws of sets."""

import numpy as np
import pytest
import shapely

from core.outline.boolean import difference, intersection, union
from core.outline.loop import Loop
from core.outline.measure import all_loops, distances, segments_of
from core.outline.offset import grown, shrunk
from core.outline.polygon import to_polygon
from tests.support.shapes import any_shape, area, perimeter, polygon, rectangle, same_shape, solid, turned

OPERATIONS = ((union, shapely.union), (intersection, shapely.intersection), (difference, shapely.difference))
DISC = solid(Loop.circle((0.0, 0.0), 10.0))


def flat(regions):
    return shapely.union_all([shapely.make_valid(part) for part in to_polygon(regions, 1e-5).geoms])


def is_sound(regions):
    """Valid, apart from one another, without segments of no length."""
    made = to_polygon(regions, 1e-5)
    apart = abs(shapely.union_all(made.geoms).area - made.area) < 1e-6 + 1e-4 * perimeter(regions)
    whole = all(part.is_valid for part in made.geoms)
    return whole and apart and bool(segments_of(all_loops(regions)).chord_lengths().min(initial=1.0) > 1e-7)


def test_a_half_disc_has_two_corners_where_pythagoras_says_and_its_arcs():
    (half,) = intersection(DISC, solid(rectangle(20.0, 40.0, (6.0, -20.0))))
    corners = sorted(half.outer.points.round(9).tolist())
    assert corners == [[6.0, -8.0], [6.0, 8.0], [10.0, 0.0]]
    angle = np.arccos(0.6)
    assert half.area() == pytest.approx(100.0 * angle - 48.0, abs=1e-9)


def test_a_lens_of_two_discs_has_its_closed_form():
    (lens,) = intersection(DISC, solid(Loop.circle((12.0, 0.0), 10.0)))
    angle = 2.0 * np.arccos(0.6)
    assert lens.area() == pytest.approx(100.0 * (angle - np.sin(angle)), abs=1e-9)


def test_segments_that_are_not_cut_stay_as_they_were_to_the_last_bit():
    shape = any_shape(2)
    away = solid(shape[0].outer.moved(4.0, 3.0))
    own = {tuple(row) for loop in all_loops((*shape, *away)) for row in told(loop)}
    both = union(shape, away)
    rows = [tuple(row) for loop in all_loops(both) for row in told(loop)]
    assert sum(row in own for row in rows) >= len(rows) - 8


def told(loop):
    return np.column_stack((loop.points, np.roll(loop.points, -1, axis=0), loop.bulges)).tolist()


@pytest.mark.parametrize("seed", range(6))
def test_a_shape_with_itself_is_itself_to_the_last_bit(seed):
    shape = any_shape(seed)
    rows = sorted(told(shape[0].outer))
    for result in (union(shape, shape), intersection(shape, shape)):
        assert sorted(told(result[0].outer)) == rows
    assert difference(shape, shape) == ()


def test_neighbours_that_share_an_edge_become_one_without_it():
    left, right = solid(rectangle(4.0, 4.0)), solid(rectangle(4.0, 4.0, (4.0, 0.0)))
    (both,) = union(left, right)
    assert sorted(both.outer.points.tolist()) == [[0, 0], [0, 4], [4, 0], [4, 4], [8, 0], [8, 4]]
    assert intersection(left, right) == ()


def test_partial_edges_and_arcs_in_common_come_out_once():
    disc = solid(
        Loop(10.0 * np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0]]), np.tan([np.pi / 8] * 2 + [np.pi / 4]))
    )
    turned_disc = solid(turned(DISC[0].outer, 1.0))
    (both,) = union(disc, turned_disc)
    assert len(both.outer.bulges) <= 5
    assert both.area() == pytest.approx(100.0 * np.pi, abs=1e-8)
    assert area(difference(disc, turned_disc)) == 0.0


def test_an_edge_that_is_met_but_not_parted_stays_one_segment():
    big = rectangle(10.0, 6.0)
    (both,) = union(solid(big), solid(rectangle(4.0, 3.0, (3.0, 0.0))))
    assert sorted(told(both.outer)) == sorted(told(big))


def test_an_opening_cut_out_of_a_shape_is_the_cutter_run_backwards_to_the_last_bit():
    cutter = Loop(np.array([[1.0, 0.0], [3.0, 1.0], [0.5, 2.0]]), np.array([0.1, 0.37, -0.2]))
    (plate,) = difference(DISC, solid(cutter))
    assert sorted(told(plate.openings[0])) == sorted(told(cutter.reversed()))


def test_what_touches_at_a_point_stays_apart_there():
    result = union(solid(rectangle(2.0, 2.0)), solid(rectangle(2.0, 2.0, (2.0, 2.0))))
    assert [region.area() for region in result] == pytest.approx([4.0, 4.0])
    kissing = union(DISC, solid(Loop.circle((15.0, 0.0), 5.0)))
    assert area(kissing) == pytest.approx(125.0 * np.pi, abs=1e-3)


def test_a_disc_within_a_disc_that_it_touches_leaves_a_crescent():
    (crescent,) = difference(DISC, solid(Loop.circle((5.0, 0.0), 5.0)))
    assert area((crescent,)) == pytest.approx(75.0 * np.pi, abs=1e-3)
    assert is_sound((crescent,))


def test_an_opening_filled_by_its_own_shape_is_gone():
    hole = Loop.circle((1.0, 2.0), 3.0)
    plate = difference(DISC, solid(hole))
    (again,) = union(plate, solid(hole))
    assert not again.openings
    np.testing.assert_array_equal(np.sort(again.outer.points, axis=0), np.sort(DISC[0].outer.points, axis=0))


def test_a_sliver_thinner_than_the_flattening_is_dropped():
    long = solid(rectangle(50.0, 2.0))
    assert difference(long, solid(rectangle(50.0, 2.0, (0.0, 2e-5)))) == ()


def test_nothing_is_neutral():
    assert union((), DISC) == DISC
    assert intersection(DISC, ()) == ()
    assert difference(DISC, ()) == DISC
    assert difference((), DISC) == ()


def test_islands_and_openings_keep_their_places():
    ring = solid(Loop.circle((0.0, 0.0), 10.0), Loop.circle((0.0, 0.0), 8.0).reversed())
    target = (*ring, *solid(Loop.circle((0.0, 0.0), 4.0)))
    half = intersection(target, solid(rectangle(40.0, 20.0, (-20.0, 0.0))))
    assert area(half) == pytest.approx((36.0 + 16.0) * np.pi / 2.0, abs=1e-9)
    assert len(half) == 2


@pytest.mark.parametrize("seed", range(0, 60, 2))
def test_results_agree_with_fine_polygons(seed):
    a, b = any_shape(seed), any_shape(seed + 1)
    for ours, theirs in OPERATIONS:
        result = ours(a, b)
        expected = theirs(flat(a), flat(b))
        assert is_sound(result)
        assert area(result) == pytest.approx(expected.area, abs=1e-4 * (1.0 + expected.length))


@pytest.mark.parametrize("seed", range(0, 20, 2))
def test_the_parts_of_a_shape_make_up_its_area(seed):
    a, b = any_shape(seed), any_shape(seed + 1)
    parts = area(intersection(a, b)) + area(difference(a, b))
    assert parts == pytest.approx(area(a), abs=1e-3 * perimeter(a) / 10.0)


@pytest.mark.parametrize("seed", range(8))
def test_a_part_against_its_own_as_cut_edge_leaves_only_the_corners(seed):
    """Long edges lie on one another within rounding, with other ends: none of them may be left over."""
    part, radius = any_shape(seed), 0.8
    as_cut = shrunk(grown(part, radius), radius)
    assert same_shape(intersection(as_cut, part), part, 1e-3)
    for left in difference(as_cut, part):
        middle = left.outer.segments().midpoints()
        assert distances(all_loops(part), middle).max() > 1e-5


def test_a_star_cut_by_its_own_turn_stays_sound_for_every_small_turn():
    star = polygon(
        *[(r * np.cos(a), r * np.sin(a)) for a, r in zip(np.arange(10) * 0.62831853, [9, 4] * 5, strict=True)]
    )
    for angle in (1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3):
        both = union(solid(star), solid(turned(star, angle)))
        assert is_sound(both)
        assert area(both) == pytest.approx(star.signed_area(), abs=angle * 400.0 + 1e-2)
