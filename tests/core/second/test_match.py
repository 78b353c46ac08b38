from dataclasses import replace

import numpy as np
import pytest

from core.second.match import match, placed_by_hand
from core.second.pose import IDENTITY, Pose
from tests.campaigns.second_pictures import MOST_OFF
from tests.support import drawn as d
from tests.support.copies import Drawing, any_drawing, misses, traced


@pytest.fixture(scope="module")
def first():
    return any_drawing(np.random.default_rng(21), 200)


@pytest.fixture(scope="module")
def first_traced(first):
    return traced(first)


def grown(drawing, by):
    """The drawing with its body, a polygon without roundings, larger by so many px on every side."""
    (colour, ring), *rest = drawing.layers
    ahead = np.roll(ring.points, -1, axis=0) - ring.points
    ahead /= np.hypot(*ahead.T)[:, None]
    out = np.column_stack((ahead[:, 1], -ahead[:, 0])) * by
    before = np.roll(out, 1, axis=0)
    share = 2.0 / (1.0 + (out * before).sum(axis=1) / by**2)
    return replace(
        drawing,
        layers=((colour, d.Ring(ring.points + (out + before) / 2.0 * share[:, None], ring.bulges)), *rest),
    )


def polygons():
    body = d.polygon((40, 50), (280, 62), (255, 215), (190, 190), (150, 290), (60, 240))
    return Drawing(((1, body),), (320, 320))


def seen_through(drawing, change, page=None):
    """The drawing with every ring's points changed, bulges kept."""
    layers = tuple((colour, d.Ring(change(ring.points), ring.bulges)) for colour, ring in drawing.layers)
    return Drawing(layers, page or drawing.page)


def test_a_copy_of_the_same_size_lies_as_it_is(first, first_traced):
    painted_over = traced(replace(first, layers=first.layers[:-2]))
    found = match(first_traced, painted_over)
    assert found.as_it_lies
    assert found.pose == IDENTITY
    assert found.belongs


def test_a_picture_moved_on_a_page_of_the_same_size_is_found(first, first_traced):
    moved = seen_through(first, lambda points: points + np.array([9.0, -6.0]))
    found = match(first_traced, traced(moved))
    assert misses(found.pose, Pose(1.0, 0.0, (-9.0, 6.0)), first.page) <= MOST_OFF
    assert not found.as_it_lies


def test_a_copy_at_three_times_the_resolution_is_found(first, first_traced):
    large = seen_through(first, lambda points: 2.5 * points, (500, 500))
    found = match(first_traced, traced(large))
    assert misses(found.pose, Pose(0.4, 0.0, (0.0, 0.0)), (500, 500)) <= MOST_OFF


def test_edges_grown_by_a_pixel_are_told_and_move_nothing():
    found = match(traced(polygons()), traced(grown(polygons(), 1.0)))
    assert found.growth == pytest.approx(1.0, abs=0.02)
    assert found.pose == IDENTITY


def test_a_mirror_image_is_known_as_one(first, first_traced):
    def turned_over(ring):
        points = np.column_stack((200.0 - ring.points[:, 0], ring.points[:, 1]))
        return d.Ring(points, -ring.bulges).reversed()

    layers = tuple((colour, turned_over(ring)) for colour, ring in first.layers)
    found = match(first_traced, traced(replace(first, layers=layers)))
    assert found.is_mirror_image


def test_a_symmetric_shape_on_another_page_fits_turned_over_as_well():
    heart = Drawing(
        ((1, d.polygon((160, 40), (280, 200), (220, 270), (160, 230), (100, 270), (40, 200))),), (320, 320)
    )
    smaller = seen_through(heart, lambda points: 0.8 * points, (256, 256))
    found = match(traced(heart), traced(smaller))
    assert found.belongs
    assert found.runner_up is not None
    assert found.runner_up.pose.is_mirrored
    assert found.runner_up.matched >= 0.9 * found.matched


def test_a_stretch_in_one_direction_is_measured():
    wide = seen_through(polygons(), lambda points: points * np.array([1.008, 1.0]), (323, 320))
    found = match(traced(polygons()), traced(wide))
    assert found.stretch == pytest.approx(0.008, abs=0.001)


def test_two_rectangles_of_other_proportions_are_strangers():
    def box(width, height):
        return traced(
            Drawing(
                ((1, d.polygon((40, 40), (40 + width, 40), (40 + width, 40 + height), (40, 40 + height))),),
                (320, 320),
            )
        )

    assert not match(box(200, 120), box(200, 160)).belongs


def test_nothing_but_the_silhouette_is_asked_when_chosen(first):
    body = first.layers[0]
    one = traced(first, only_silhouette=True)
    other = traced(replace(first, layers=(body, (2, d.circle(103.0, 95.0, 19.0)))), only_silhouette=True)
    assert match(one, other).matched > 0.99


def test_a_picture_that_is_cut_off_is_not_matched_along_its_sides(first, first_traced):
    found = match(first_traced, traced(replace(first, page=(110, 200))))
    assert found.matched > 0.97
    assert misses(found.pose, IDENTITY, (110, 200)) <= MOST_OFF


def test_a_place_given_by_hand_settles_on_the_edges_near_it(first_traced):
    found = placed_by_hand(first_traced, first_traced, Pose.turned(1.01, 0.01, (2.0, -1.0)), 0.1)
    assert misses(found.pose, IDENTITY, first_traced.size) <= MOST_OFF
    assert found.by_hand
    assert found.matched > 0.99


def test_a_place_given_by_hand_is_kept_where_nothing_agrees(first_traced):
    stranger = traced(any_drawing(np.random.default_rng(5), 200))
    given = Pose(1.0, 0.1, (12.0, 2.0))
    found = placed_by_hand(first_traced, stranger, given, 0.1)
    assert found.pose == given
    assert found.matched < 0.5


def test_many_short_edges_do_not_shrink_to_a_point_on_one_edge():
    stripes = tuple(
        (2, d.polygon((20 + 22 * k, 20), (28 + 22 * k, 20), (28 + 22 * k, 180), (20 + 22 * k, 180)))
        for k in range(8)
    )
    first = Drawing(
        ((1, d.polygon((30, 25), (170, 30), (160, 175), (95, 150), (40, 180))), (2, d.circle(80, 80, 21.0))),
        (200, 200),
    )
    found = match(traced(first), traced(Drawing(stripes, (230, 230))))
    assert not found.belongs
    assert found.pose.scale > 0.3
