"""Neighbouring films: the light one goes on under the dark one, so far and no farther, never onto bare."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.cut_films import cut_films
from core.decal.film import FilmSource
from core.decal.films import make_films
from core.decal.laying import Laying, in_laying_order, luminance
from core.decal.reach_under import reaches
from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region

FACE = (Region(Loop(np.array([[0, 0], [60, 0], [60, 40], [0, 40]], float), np.zeros(4))),)


def box(x_min, y_min, x_max, y_max):
    corners = np.array([[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]], float)
    return Region(Loop(corners, np.zeros(4)))


def areas(patches, overlap, face=FACE):
    """What each film covers, the lowest first."""
    return [to_polygon(film.regions, 1e-3).buffer(0) for film in cut_films(patches, face, overlap).films]


def gap_to(area, wanted):
    """How far two areas are from each other, mm, both ways, along their edges."""
    return shapely.hausdorff_distance(area.boundary, wanted.boundary)


def test_the_lower_film_goes_on_under_its_neighbour_by_the_overlap_and_the_upper_one_stays():
    light, dark = areas([(box(0, 0, 30, 40),), (box(30, 0, 60, 40),)], 0.6)
    assert gap_to(light, shapely.box(0, 0, 30.6, 40)) < 0.02
    assert dark.equals(shapely.box(30, 0, 60, 40))


def test_without_an_overlap_neighbours_have_the_same_numbers_on_their_common_edge():
    wave = [[30.0, 0.0], [33.0, 13.0], [28.0, 29.0], [31.0, 40.0]]
    left = Region(Loop(np.array([[0, 0], *wave, [0, 40]], float), np.array([0, 0.2, -0.3, 0.1, 0, 0])))
    right = Region(
        Loop(
            np.array([*wave[::-1], [30, 0], [60, 0], [60, 40]], float)[[0, 1, 2, 3, 5, 6]],
            np.array([-0.1, 0.3, -0.2, 0, 0, 0]),
        )
    )
    made = cut_films([(left,), (right,)], FACE, 0.0).films
    segments = [
        {
            frozenset((tuple(a), tuple(b)))
            for loop in (loop for region in film.regions for loop in region.loops())
            for a, b in zip(loop.points.tolist(), np.roll(loop.points, -1, axis=0).tolist(), strict=True)
        }
        for film in made
    ]
    assert len(segments[0] & segments[1]) == 3
    assert all(film.overlaps == () for film in made)


def test_what_is_bare_stays_bare():
    light, _ = areas([(box(0, 0, 30, 40),), (box(30, 10, 40, 20),)], 0.6)
    beyond = light.difference(shapely.box(0, 0, 30, 40))
    assert beyond.difference(shapely.box(30, 10, 40, 20).buffer(1e-6)).area < 1e-6
    assert beyond.area == pytest.approx(0.6 * 10, abs=0.1)


def test_a_dark_line_thinner_than_a_millimetre_and_a_half_is_passed_under():
    left, right, line = (box(0, 0, 30, 40), box(31.2, 0, 60, 40), box(30, 0, 31.2, 40))
    light, dark = areas([(left, right), (line,)], 0.6)
    assert gap_to(light, shapely.box(0, 0, 60, 40)) < 0.02
    assert dark.equals(shapely.box(30, 0, 31.2, 40))


def test_under_a_wider_line_two_extensions_stay_apart():
    for width in (1.6, 1.8, 2.4):
        sides = (box(0, 0, 30, 40), box(30 + width, 0, 60, 40))
        light, _ = areas([sides, (box(30, 0, 30 + width, 40),)], 1.0)
        middle = shapely.box(30 + width / 2 - 0.18, -1, 30 + width / 2 + 0.18, 41)
        assert light.intersection(middle).area < 1e-6
        reach = light.intersection(shapely.box(30, 19, 30 + width / 2, 21)).area / 2.0
        assert width / 2 - 0.2 - 0.12 < reach < width / 2 - 0.2 + 0.02


def test_the_reach_grows_with_the_width_up_to_the_overlap():
    assert reaches(0.4) == [0.4]
    assert reaches(0.6) == pytest.approx([0.55, 0.6])
    assert reaches(1.0)[0] == pytest.approx(0.55)
    assert reaches(1.0)[-1] == 1.0
    assert (np.diff(reaches(1.0)) <= 0.1 + 1e-9).all()


@settings(deadline=None, max_examples=25)
@given(
    st.lists(st.floats(4.0, 56.0), min_size=2, max_size=4, unique_by=lambda x: round(x / 3.0)),
    st.floats(5.0, 35.0),
    st.sampled_from([0.3, 0.6, 1.0]),
)
def test_films_cover_what_they_covered_and_lie_never_more_than_two_thick(cuts, level, overlap):
    xs = [0.0, *sorted(cuts), 60.0]
    patches = [(box(a, 0, b, level),) for a, b in itertools.pairwise(xs)]
    patches.append((box(0, level, 60, 40),))
    before, after = areas(patches, 0.0), areas(patches, overlap)
    for one, other in zip(before, after, strict=True):
        assert one.difference(other.buffer(1e-6)).area < 1e-6
    assert shapely.union_all(after).area == pytest.approx(60 * 40, abs=1e-3)
    for i, one in enumerate(after):
        for j, two in enumerate(after[:i]):
            for three in after[:j]:
                assert one.intersection(two).intersection(three).buffer(-0.01).is_empty


def test_dark_lies_on_top_unless_an_order_is_named():
    films = [
        FilmSource(name, colour, ())
        for name, colour in (("navy", "#000080"), ("sand", "#e9c46a"), ("teal", "#2a9d8f"))
    ]
    assert [film.name for film in in_laying_order(films, Laying(0.6))] == ["sand", "teal", "navy"]
    named = in_laying_order(films, Laying(0.6, ("teal", "sand")))
    assert [film.name for film in named] == ["navy", "teal", "sand"]
    assert luminance("#ffffff") == pytest.approx(1.0)
    assert luminance("#808080") == pytest.approx(0.21586, abs=1e-5)  # IEC 61966-2-1 by hand


def test_a_name_in_the_order_that_no_film_has_is_told():
    made = make_films((FilmSource("sand", "#e9c46a", FACE),), FACE, 0.8, Laying(0.6, ("sky",)))
    assert [finding.code for finding in made.findings] == ["film-order-unknown"]
    assert "sky" in made.findings[0].text
    assert "sand" in made.findings[0].remedy


def test_each_overlap_is_listed_with_the_edge_that_it_begins_at():
    made = make_films(
        (FilmSource("a", "#ffffff", (box(0, 0, 30, 40),)), FilmSource("b", "#000000", (box(30, 0, 60, 40),))),
        FACE,
        0.8,
        Laying(0.6),
    )
    (place,) = [one for one in made.excepted if one.why == "overlap"]
    assert place.size_mm == pytest.approx(38.4, abs=1e-6)
    assert 30.0 < place.at[0] < 30.6
