"""Grown and shrunk: exactly as far as asked, what a disc can reach exactly as it was."""

import numpy as np
import pytest
import shapely

from core.errors import BadShape
from core.outline.curve import picked
from core.outline.loop import Loop
from core.outline.measure import all_loops, contains, distances, segments_of, signed_distances
from core.outline.offset import grown, shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, bounds_of
from tests.support.shapes import (
    any_shape,
    area,
    polygon,
    rectangle,
    rough,
    rounded,
    same_shape,
    solid,
    variants,
)

EXACT = 1e-6  # mm: what is promised for every place of the edge
SEEDS = range(24)


def along(regions, shares=9):
    """Places on every segment of every Loop."""
    segments = segments_of(all_loops(regions))
    rows = np.repeat(np.arange(len(segments)), shares)
    return picked(segments, rows).points_at(np.tile(np.linspace(0.0, 1.0, shares), len(segments)))


def is_as_far_as(result, source, distance):
    return bool(np.abs(distances(all_loops(source), along(result)) - distance).max() <= EXACT)


def is_sound(regions):
    tiny = segments_of(all_loops(regions)).chord_lengths().min(initial=1.0)
    return to_polygon(regions, 1e-5).is_valid and tiny > 1e-7


def holds_the_right_points(result, source, level):
    x_min, y_min, x_max, y_max = bounds_of(all_loops(source))
    margin = abs(level)
    low, high = (x_min - margin, y_min - margin), (x_max + margin, y_max + margin)
    places = np.random.default_rng(0).uniform(low, high, (400, 2))
    depth = signed_distances(source, places)
    clear = np.abs(depth - level) > 1e-3
    return bool((contains(result, places) == (depth > level))[clear].all())


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("distance", [0.05, 1.5875])
def test_every_place_of_the_edge_is_as_far_away_as_asked(seed, distance):
    shape = any_shape(seed)
    out, within = grown(shape, distance), shrunk(shape, distance)
    assert is_sound(out)
    assert is_as_far_as(out, shape, distance)
    assert holds_the_right_points(out, shape, -distance)
    if within:
        assert is_sound(within)
        assert is_as_far_as(within, shape, distance)
    assert holds_the_right_points(within, shape, distance)


def test_a_square_grows_lines_and_quarter_arcs():
    (result,) = grown(solid(rectangle(20.0, 10.0)), 3.0)
    assert sorted(result.outer.bulges.tolist()) == pytest.approx([0.0] * 4 + [np.tan(np.pi / 8)] * 4)
    assert bounds_of(result.loops()) == pytest.approx((-3.0, -3.0, 23.0, 13.0), abs=1e-12)


def test_a_circle_stays_a_circle_of_two_half_turns():
    disc = solid(Loop.circle((3.0, 4.0), 10.0))
    for result, radius in ((grown(disc, 2.0), 12.0), (shrunk(disc, 2.0), 8.0)):
        assert result[0].outer.bulges.tolist() == [1.0, 1.0]
        np.testing.assert_allclose(np.abs(result[0].outer.points[:, 0] - 3.0), radius, rtol=1e-14)
    assert shrunk(disc, 10.0) == ()
    assert shrunk(disc, 11.0) == ()


def test_a_rounded_box_keeps_its_joints_tangent():
    (result,) = grown(solid(rounded(30.0, 20.0, 4.0)), 1.5)
    assert len(result.outer.bulges) == 8
    assert result.outer.segments().radii()[np.abs(result.outer.bulges) > 0.0] == pytest.approx([5.5] * 4)
    segments = result.outer.segments()
    arriving = np.roll(segments.headings_at(np.ones(8)), 1)
    turn = (segments.headings_at(np.zeros(8)) - arriving + np.pi) % (2 * np.pi) - np.pi
    assert np.abs(turn).max() < 1e-12


def test_shrinking_by_the_corner_radius_gives_sharp_corners():
    (result,) = shrunk(solid(rounded(30.0, 20.0, 4.0)), 4.0)
    assert sorted(result.outer.points.round(9).tolist()) == [[4, 4], [4, 16], [26, 4], [26, 16]]
    assert result.outer.bulges.tolist() == [0.0] * 4


def test_nothing_is_done_by_no_distance():
    shape = any_shape(1)
    assert grown(shape, 0.0) is shape
    assert shrunk(shape, 0.0) is shape
    assert grown((), 1.0) == ()
    assert shrunk((), 1.0) == ()
    for change in (grown, shrunk):
        with pytest.raises(BadShape):
            change(shape, -1.0)


def test_what_a_disc_reaches_comes_back_exactly_with_its_radius_in_inside_corners():
    shape = solid(polygon((0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)))
    (closed,) = shrunk(grown(shape, 1.5), 1.5)
    corners = {tuple(point) for point in closed.outer.points.round(9).tolist()}
    assert corners == {(0, 0), (20, 0), (20, 10), (11.5, 10), (10, 11.5), (10, 20), (0, 20)}
    arcs = closed.outer.segments().radii()[closed.outer.bulges != 0.0]
    assert arcs == pytest.approx([1.5], abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_a_shape_without_inside_corners_is_closed_as_it_was(seed):
    rng = np.random.default_rng(seed)
    turns = np.sort(rng.uniform(0.0, 2.0 * np.pi, 7)) + np.arange(7) * 1e-3
    gaps = np.diff(np.append(turns, turns[0] + 2.0 * np.pi))
    bulges = np.tan(gaps / 4.0 * rng.uniform(0.0, 1.0, 7))  # flatter than the circle through the corners
    loop = Loop(20.0 * np.column_stack((np.cos(turns), np.sin(turns))), bulges)
    (closed,) = shrunk(grown(solid(loop), 1.5), 1.5)
    assert len(closed.outer.bulges) == 7
    away = np.abs(closed.outer.points[:, None, :] - loop.points[None, :, :]).max(axis=2).min(axis=1)
    assert away.max() < 1e-9
    assert np.sort(closed.outer.bulges) == pytest.approx(np.sort(loop.bulges), abs=1e-9)


@pytest.mark.parametrize("seed", range(0, 24, 2))
def test_opening_shrinks_closing_grows_and_both_once_are_enough(seed):
    """J. Serra, Image Analysis and Mathematical Morphology, 1982: (anti-)extensive and idempotent."""
    shape, radius = any_shape(seed), 0.7
    closed, opened = shrunk(grown(shape, radius), radius), grown(shrunk(shape, radius), radius)
    assert (signed_distances(closed, along(shape)) > -EXACT).all()
    assert same_shape(shrunk(grown(closed, radius), radius), closed, 1e-4)
    if opened:
        assert (signed_distances(shape, along(opened)) > -EXACT).all()
        assert same_shape(grown(shrunk(opened, radius), radius), opened, 1e-4)


def test_necks_part_and_slots_close():
    bone = polygon(
        (0, 0),
        (10, 0),
        (10, 4),
        (20, 4),
        (20, 0),
        (30, 0),
        (30, 10),
        (20, 10),
        (20, 6),
        (10, 6),
        (10, 10),
        (0, 10),
    )
    assert len(shrunk(solid(bone), 1.2)) == 2
    assert len(shrunk(solid(bone), 0.8)) == 1
    slot = solid(rectangle(30.0, 20.0), rectangle(20.0, 2.0, (5.0, 9.0)).reversed())
    assert len(grown(slot, 0.9)[0].openings) == 1
    assert not grown(slot, 1.1)[0].openings


def test_regions_that_grow_into_one_another_become_one():
    two = (*solid(rectangle(4.0, 4.0)), *solid(rectangle(4.0, 4.0, (5.0, 0.0))))
    assert len(grown(two, 0.4)) == 2
    (one,) = grown(two, 0.6)
    assert is_as_far_as((one,), two, 0.6)


def test_it_does_not_matter_how_a_loop_is_told():
    loop = rough(np.random.default_rng(5), 7)
    first = grown(solid(loop), 1.0)
    for other in variants(loop):
        if other.signed_area() > 0.0:
            assert area(grown(solid(other), 1.0)) == pytest.approx(area(first), abs=1e-9)


def test_the_same_regions_give_the_same_bits():
    shape = any_shape(7)
    first, again = grown(shape, 1.0), grown(shape, 1.0)
    np.testing.assert_array_equal(first[0].outer.points, again[0].outer.points)


def test_a_shape_that_crosses_itself_is_made_the_best_of():
    """A defect of what went before: it must not end in an error of a library."""
    bow = Loop(np.array([[0.0, 0.0], [10.0, 0.0], [4.0, 5.0], [6.0, 5.0]]), np.array([0.1, 0.0, 0.0, 0.0]))
    result = grown(solid(bow), 1.0)
    assert contains(result, np.array([[5.0, 1.0], [5.0, 4.9]])).all()


def test_a_crumb_that_folds_a_corner_back_on_itself_does_not_lose_the_corner():
    """A fault of old: the fold was taken for a slit, which has no join arc, and the corner was cut off."""
    points = [[15, 7], [-1, 24], [-16.596060052, -6.766859141], [-16.591119132, -6.767070724], [15.5, -10]]
    fold = Loop(np.array(points), np.array([0.0, -0.252397459, -0.339149913, 0.0, 0.0]))
    places = np.vstack(
        [fold.points[2] + 1.4 * np.array([np.cos(a), np.sin(a)]) for a in (3.2, 3.6, 4.0, 4.4)]
    )
    assert contains(grown(solid(fold), 1.5875), places).all()


def test_a_crumb_of_an_edge_does_no_harm():
    """An offset of an offset had this edge of SNAP's own length, whose shifted ends meet in the noding."""
    corners = [
        (148.049040440328, 50.564339596165055),
        (148.01923959121223, 50.62732186815586),
        (150.09336831430622, 53.1425251636633),
        (150.0933683814478, 53.142525245082915),
        (158.86370088198302, 65.22497489334174),
        (120.0, 65.0),
        (120.0, 40.0),
    ]
    bulges = [0.0, 0.0, 2.6383169093868737e-08, 0.03086131046767795, 0.0, 0.0, 0.0]
    part = Region(Loop(np.array(corners), np.array(bulges)))
    part = part if part.area() > 0 else Region(part.outer.reversed())
    (left,) = shrunk((part,), 1.0)
    assert left.area() == pytest.approx(
        shapely.buffer(to_polygon((part,), 1e-4), -1.0, quad_segs=64).area, abs=0.01
    )
