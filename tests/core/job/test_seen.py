"""Corners, crops and sizes of paper as people type them."""

import pytest

from core.errors import BadValue
from core.job.job import Job
from core.job.seen import Paper, PicturePoints

CORNERS = PicturePoints(4, "the four corners", "1,2; 3,4")


def test_points_are_read_in_their_order_and_none_is_none():
    text = "120,80; 900 95; 880x1200; 100.5,1180"
    points = CORNERS.read(text)
    assert points == ((120.0, 80.0), (900.0, 95.0), (880.0, 1200.0), (100.5, 1180.0))
    assert CORNERS.read(CORNERS.written(points)) == points
    assert CORNERS.read(" None ") == ()
    assert CORNERS.written(()) == "none"


def test_three_corners_are_not_four():
    with pytest.raises(BadValue, match="3 points were given; it takes none or the four corners"):
        CORNERS.read("1,2; 3,4; 5,6")


@pytest.mark.parametrize(
    ("text", "short", "long"),
    [
        ("a4", 210.0, 297.0),
        ("LETTER", 215.9, 279.4),
        ("100 x 150 mm", 100.0, 150.0),
        ("6 in \u00d7 4 in", 101.6, 152.4),
        ("15 x 10 cm", 100.0, 150.0),
        ("100,150", 100.0, 150.0),
        ("8.5 x 11 in", 215.9, 279.4),
    ],
)
def test_paper_is_known_by_its_name_or_its_sides_in_either_order(text, short, long):
    paper = Paper().read(text)
    assert (paper.short_mm, paper.long_mm) == pytest.approx((short, long))
    assert Paper().read(Paper().written(paper)) == paper


@pytest.mark.parametrize("text", ["A9", "100", "100 x mm", "1 x 2 mm", "1 x 90 m", "-5 x 9 in", ""])
def test_what_is_no_paper_is_refused_in_words(text):
    with pytest.raises(BadValue, match="it takes A3, A4, A5, Letter or two lengths"):
        Paper().read(text)


def test_one_size_is_one_paper_however_it_is_typed():
    assert Paper().is_same(Paper().read("297 x 210"), Paper().read("A4"))


def test_what_was_asked_of_the_picture_differs_from_the_defaults():
    job = Job().with_choice("picture.crop", "1,2; 30,40").with_choice("picture.paper", "A5")
    assert job.differences() == ("picture.paper", "picture.crop")
