import numpy as np
import pytest

from core.findings import Level
from core.proof.layers import Layers, Page
from core.proof.sizes import (
    box_findings,
    crossing_findings,
    height_findings,
    level_height_error,
    page_findings,
    part_height_error,
)
from tests.core.proof.claimed import box, circle, claims, layers, line

CLAIMS = claims()
FILM = CLAIMS.films[0]


def clipped(width, height, clip=5.0):
    corners = [[0, 0], [width, 0], [width, height - clip], [width - clip, height], [0, height]]
    contour = type(box(0, 0, 1, 1))(np.array(corners, float), np.zeros(5), is_closed=True)
    return layers(weeding=[contour])


def codes(findings):
    assert all(finding.level is Level.STOP and "sky.svg" in finding.text for finding in findings)
    return [finding.code for finding in findings]


LEVELS = [line((5, 5), (45, 5)), line((5, 25), (45, 25))]


def part_error(part, claimed=CLAIMS, notes=LEVELS):
    return part_height_error(layers(part=[part], notes=notes), claimed)


def test_height_and_width_are_measured_and_the_worse_counts():
    assert part_error(box(3, 3, 43, 23)) == pytest.approx(0.0)
    assert part_error(box(0, 0, 40, 20.02)) == pytest.approx(0.02)
    assert part_error(box(0, 0, 39.9, 20)) == pytest.approx(0.1)
    assert part_height_error(layers(), CLAIMS) == 20.0


MOVED = [LEVELS[0], line((5, 25.2), (45, 25.2))]


def test_the_level_lines_of_a_part_say_its_height_too():
    assert part_error(box(0, 0, 40, 20), notes=MOVED) == pytest.approx(0.2)
    assert part_error(box(0, 0, 40, 20), notes=LEVELS[:1]) == 20.0


def test_where_there_is_more_to_the_part_than_the_drawn_shape_both_sizes_are_measured():
    based = claims(part_mm=[50.0, 30.0])
    assert part_error(box(0, 0, 50, 30), based) == pytest.approx(0.0)
    assert part_error(box(0, 0, 50, 30.1), based) == pytest.approx(0.1)
    assert part_error(box(0, 0, 50, 30), based, MOVED) == pytest.approx(0.2)


def test_the_belly_of_an_arc_counts_as_height():
    square = claims(width_mm=20.0)
    assert part_error(circle((20, 10), 20.0), square) < 1e-3
    assert part_error(circle((20, 10), 20.04), square) > 0.03


def test_two_level_lines_say_the_height_of_a_film_drawing():
    assert level_height_error(layers(notes=[line((0, 1), (40, 1)), line((0, 21), (40, 21))]), CLAIMS) == 0.0
    off = layers(notes=[line((0, 1), (40, 1)), line((0, 21.01), (40, 21.01))])
    assert level_height_error(off, CLAIMS) == pytest.approx(0.01)


@pytest.mark.parametrize(
    "notes",
    [
        [],
        [line((0, 1), (40, 1))],
        [line((0, 1), (40, 1)), line((0, 21), (40, 21.001))],
        [line((0, 1), (40, 1)), line((0, 21), (20, 21), (40, 21))],
        [line((0, 1), (40, 1)), box(0, 21, 40, 21)],
    ],
)
def test_without_two_level_lines_no_height_can_be_read(notes):
    assert level_height_error(layers(notes=notes), CLAIMS) == 20.0


def test_a_size_that_differs_is_a_stop():
    assert height_findings("sky.svg", 0.0049) == ()
    assert codes(height_findings("sky.svg", 0.0051)) == ["size-differs"]


def test_the_sheet_box_is_the_claimed_one_with_a_clipped_corner():
    assert codes(box_findings("sky.svg", clipped(50, 30), FILM)) == []
    assert codes(box_findings("sky.svg", layers(), FILM)) == ["sheet-box-missing"]
    assert codes(box_findings("sky.svg", clipped(50.01, 30), FILM)) == ["sheet-box-differs"]
    assert codes(box_findings("sky.svg", clipped(30, 50), FILM)) == ["sheet-box-differs"]
    assert codes(box_findings("sky.svg", layers(weeding=[box(0, 0, 50, 30)]), FILM)) == [
        "sheet-box-unclipped"
    ]


@pytest.mark.parametrize(
    ("contours", "said"),
    [
        ([box(0, 0, 10, 10), box(2, 2, 4, 4)], []),
        ([box(0, 0, 10, 10), box(5, 5, 15, 15)], ["contour-crosses"]),
        ([box(0, 0, 10, 10), box(0, 0, 10, 10)], ["contour-crosses"]),
        ([line((0, 0), (10, 0), (10, 10))], ["contour-open"]),
        ([type(box(0, 0, 1, 1))(np.array([[0, 0], [9, 9], [9, 0], [0, 9.0]]), np.zeros(4), is_closed=True)],
         ["contour-crosses"]),
    ],
)  # fmt: skip
def test_contours_of_a_cut_layer_are_closed_and_do_not_cross(contours, said):
    for name in ("part", "as_cut", "film_sky", "marks"):
        assert codes(crossing_findings("sky.svg", layers(**{name: contours}))) == said
    assert crossing_findings("sky.svg", layers(notes=contours, patch_sky=contours)) == ()


SHEET = (0.0, 0.0, 60.0, 40.0)


@pytest.mark.parametrize(
    ("page", "told"),
    [
        (Page(SHEET, (60.0, 40.0)), []),
        (Page(None, (60.0, 40.0)), ["page-differs"]),
        (Page(SHEET, (None, 40.0)), ["page-differs"]),
        (Page(SHEET, (60.0, 40.0049)), []),
        (Page(SHEET, (60.0, 40.0051)), ["page-differs"]),
        (Page((0.0, 0.0, 59.0, 40.0), (59.0, 40.0)), ["page-differs"]),
        (Page(SHEET, (60.0, 40.0), covers=(0.0, 1.0, 60.0, 40.0)), ["page-differs"]),
    ],
)
def test_a_page_that_is_not_what_it_states_or_cuts_the_sheet_off_is_a_stop(page, told):
    assert codes(page_findings("sky.svg", Layers({}, page=page), CLAIMS)) == told


def test_a_page_that_cuts_a_shape_off_is_a_stop():
    beyond = Layers({"film-sky": (box(50, 30, 60.01, 40),)}, page=Page(SHEET, (60.0, 40.0)))
    assert codes(page_findings("sky.svg", beyond, CLAIMS)) == ["page-differs"]
    assert codes(page_findings("sky.svg", beyond, claims(frame__mirror_x=30.0))) == []
