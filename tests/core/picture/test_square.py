"""Sheets squared up, pictures levelled and cropped."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER
from core.errors import BadValue
from core.picture.colours import ColourWish, find_colours
from core.picture.paper_size import PAPERS, PaperSize
from core.picture.square import SquareWish, squared
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.score import score
from tests.support.slanted import drawn_where, photographed, telephoned

SLANT = np.radians([15.0, 20.0, 6.0])
PLATE = d.shapes(300)[3]
A4 = next(paper for paper in PAPERS if paper.name == "A4")


@pytest.fixture(scope="module")
def photograph():
    return photographed(PLATE, d.BLACK_ON_WHITE, *SLANT)


@pytest.fixture(scope="module")
def picture(photograph):
    return d.picture_of(d.eight_bit(photograph.pixels))


@pytest.fixture(scope="module")
def made(picture):
    return squared(picture, SquareWish())


def test_the_corners_of_a_sheet_are_found_to_a_hundredth_of_a_pixel(photograph, made):
    there = np.array([made.plane.back(made.plane.of(corner)) for corner in photograph.corners.tolist()])
    assert there == pytest.approx(photograph.corners, abs=1e-6)
    squared_corners = np.array([made.plane.of(corner) for corner in photograph.corners.tolist()])
    sides = np.roll(squared_corners, -1, axis=0) - squared_corners
    assert np.abs(sides).min(axis=1) == pytest.approx(0.0, abs=0.01)
    assert [finding.code for finding in made.findings] == ["sheet-squared"]


@pytest.mark.parametrize("shape", d.shapes(300)[:4], ids=lambda shape: shape.name)
def test_the_outline_of_a_slanted_sheet_is_what_was_drawn_on_it(shape):
    photograph = photographed(shape, d.BLACK_ON_WHITE, *SLANT)
    made = squared(d.picture_of(d.eight_bit(photograph.pixels)), SquareWish())
    found = score(
        trace(made.picture, find_colours(made.picture, ColourWish()), NEVER),
        drawn_where(shape, photograph, made),
    )
    assert found.rms <= 0.035
    assert found.greatest_off_corners <= 0.2
    assert found.corner <= 0.15
    assert found.pieces <= 1.3
    assert found.wobble <= 0.25


@pytest.mark.parametrize("shape", d.shapes(300)[1:4:2], ids=lambda shape: shape.name)
def test_a_drawing_on_a_wooden_table_half_in_shadow_is_traced_as_drawn(shape):
    photograph = photographed(shape, d.BLACK_ON_WHITE, *np.radians([12.0, 30.0, 5.0]))
    made = squared(d.picture_of(telephoned(photograph.pixels)), SquareWish())
    colours = find_colours(made.picture, ColourWish())
    outline = trace(made.picture, colours, NEVER)
    found = score(outline, drawn_where(shape, photograph, made))
    assert len(colours.palette) == 2
    assert len(outline.faces) - 1 == len(shape.patches[0].rings)
    assert found.rms <= 0.12
    assert found.pieces <= 1.3


def test_neither_paper_edge_nor_table_is_seen_any_more(made):
    colours = find_colours(made.picture, ColourWish())
    assert len(colours.palette) == 2
    assert not [finding for finding in colours.findings if finding.code != "specks-removed"]


@pytest.mark.parametrize("shape", [*d.shapes(300), d.pie(300), d.flag(300)], ids=lambda shape: shape.name)
def test_a_drawing_without_a_sheet_is_left_as_it_is(shape):
    palette = d.FOUR if len(shape.patches) > 1 else d.BLACK_ON_WHITE
    picture = d.picture_of(d.eight_bit(d.drawn(shape, palette)))
    assert squared(picture, SquareWish()).picture is picture


@pytest.mark.parametrize("turn", [0.0, 0.2])
def test_a_light_plate_with_a_hole_on_a_dark_ground_is_a_shape_and_no_sheet(turn):
    plate = d.polygon((-110, -80), (110, -80), (110, 80), (-110, 80)).turned(turn).moved(150, 150)
    shape = d.Shape("plate", 300, 300, (d.Patch(1, (plate, d.circle(150, 150, 30).reversed())),), 6)
    picture = d.picture_of(d.eight_bit(d.drawn(shape, d.BLACK_ON_WHITE[::-1])))
    assert squared(picture, SquareWish()).picture is picture


def test_an_upright_drawing_on_a_light_panel_is_left_as_it_is():
    panel = d.polygon((40, 40), (260, 40), (260, 260), (40, 260))
    shape = d.Shape("panel", 300, 300, (d.Patch(1, (panel, d.circle(150, 150, 60).reversed())),
                                        d.Patch(2, (d.circle(150, 150, 60),))), 6)  # fmt: skip
    picture = d.picture_of(
        d.eight_bit(d.drawn(shape, np.array([[0.2, 0.2, 0.3], [1, 1, 1], [0.9, 0.2, 0.1]])))
    )
    assert squared(picture, SquareWish()).picture is picture


def test_none_leaves_even_a_sheet_as_it_was_photographed(picture):
    assert squared(picture, SquareWish(corners=())).picture is picture


def test_corners_placed_by_hand_are_taken_in_any_order(photograph, picture):
    points = tuple(map(tuple, photograph.corners[[2, 0, 3, 1]].tolist()))
    by_hand = squared(picture, SquareWish(corners=points))
    assert by_hand.findings == ()
    assert by_hand.plane.of(points[1]) == pytest.approx((-3.0, -3.0), abs=1e-6)


@pytest.mark.parametrize(
    "points", [((0, 0), (10, 0), (20, 0), (5, 9)), ((0, 0), (30, 0), (30, 30), (20, 10)), ((0, 0), (9, 9))]
)
def test_corners_that_do_not_stand_round_a_sheet_are_refused(picture, points):
    with pytest.raises(BadValue, match="corners"):
        squared(picture, SquareWish(corners=points))


def test_a_paper_of_known_size_says_how_large_a_pixel_is(photograph, picture):
    paper = PaperSize("90 x 90", 90.0, 90.0)
    made = squared(picture, SquareWish(paper=paper))
    left, right = (np.array(made.plane.of(tuple(corner))) for corner in photograph.corners[:2].tolist())
    assert made.px_mm * np.hypot(*(right - left)) == pytest.approx(90.0, abs=0.01)


def test_a_paper_is_laid_the_way_it_was_photographed():
    shape = d.Shape("wide", 424, 300, (d.Patch(1, (d.circle(212, 150, 90),)),), 2)
    photograph = photographed(shape, d.BLACK_ON_WHITE, *SLANT)
    made = squared(d.picture_of(d.eight_bit(photograph.pixels)), SquareWish(paper=A4))
    left, right, low = (np.array(made.plane.of(tuple(c))) for c in photograph.corners[:3].tolist())
    assert np.hypot(*(right - left)) / np.hypot(*(low - right)) == pytest.approx(297 / 210, abs=2e-4)


def test_a_sheet_of_no_common_proportion_is_squared_with_a_caution():
    shape = d.Shape("long", 480, 260, (d.Patch(1, (d.circle(240, 130, 80),)),), 2)
    photograph = photographed(shape, d.BLACK_ON_WHITE, *np.radians([15.0, 40.0, 3.0]))
    made = squared(d.picture_of(d.eight_bit(photograph.pixels)), SquareWish())
    assert [finding.code for finding in made.findings] == ["sheet-squared", "proportion-guessed"]
    left, right, low = (np.array(made.plane.of(tuple(c))) for c in photograph.corners[:3].tolist())
    assert np.hypot(*(right - left)) / np.hypot(*(low - right)) == pytest.approx(480 / 260, rel=0.02)


def test_a_paper_without_a_sheet_is_said_to_tell_nothing():
    picture = d.picture_of(d.drawn(PLATE, d.BLACK_ON_WHITE))
    made = squared(picture, SquareWish(paper=A4))
    assert [finding.code for finding in made.findings] == ["no-sheet"]
    assert made.px_mm is None


def test_a_crop_alone_copies_whole_pixels(picture):
    made = squared(picture, SquareWish(corners=(), crop=((200.0, 90.0), (40.0, 30.0))))
    assert np.array_equal(made.picture.pixels, picture.pixels[30:90, 40:200])
    assert made.plane.of((40.0, 30.0)) == (0.0, 0.0)


def test_a_crop_beyond_the_picture_is_refused(picture):
    with pytest.raises(BadValue, match="crop"):
        squared(picture, SquareWish(corners=(), crop=((5000.0, 10.0), (5100.0, 90.0))))


@settings(max_examples=15, deadline=None)
@given(st.floats(-0.7, 0.7), st.tuples(st.floats(0, 300), st.floats(0, 300)))
def test_a_point_of_a_levelled_picture_comes_back(angle, point):
    picture = d.picture_of(np.ones((300, 300, 3)))
    plane = squared(picture, SquareWish(level=angle, crop=((30.0, 30.0), (250.0, 260.0)))).plane
    assert plane.back(plane.of(point)) == pytest.approx(point, abs=1e-9)


def test_a_level_turns_the_picture_counter_clockwise_and_keeps_its_size():
    turn = 0.1
    box = d.polygon((-80, -50), (80, -50), (80, 50), (-80, 50))
    drawn = d.Shape("box", 300, 300, (d.Patch(1, (box.turned(-turn).moved(150, 150),)),), 4)
    picture = d.picture_of(d.eight_bit(d.drawn(drawn, d.BLACK_ON_WHITE)))
    made = squared(picture, SquareWish(level=turn))
    outline = trace(made.picture, find_colours(made.picture, ColourWish()), NEVER)
    x, y = made.plane.of((150.0, 150.0))
    upright = box.moved(x, made.picture.height - y)
    truth = d.Shape("box", made.picture.width, made.picture.height, (d.Patch(1, (upright,)),), 4)
    assert score(outline, truth).rms < 0.02
