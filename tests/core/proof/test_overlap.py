"""A film under another: no less than was claimed, no more, never three thick."""

import pytest
import shapely

from core.proof.films import Bed, film_edge
from core.proof.overlap import UnderFilm, overlap_findings, overlaps_in

OWN, UPPER = shapely.box(0, 0, 20, 20), shapely.box(20, 0, 40, 20)
NOTHING = shapely.Polygon()


def codes(film, own=OWN, upper=UPPER, overlap=0.6, taken=NOTHING):
    found = overlap_findings("sky.svg", film, own, UnderFilm((upper,), overlap), taken)
    assert all("sky.svg" in finding.text for finding in found)
    return {finding.code for finding in found}


@pytest.mark.parametrize(
    ("reach", "said"),
    [
        (0.6, set()),
        (0.55, set()),
        (0.66, set()),
        (0.35, {"film-overlap-short"}),
        (0.0, {"film-overlap-short"}),
        (0.85, {"film-overlap-wide"}),
        (5.0, {"film-overlap-wide"}),
    ],
)
def test_the_extension_is_as_wide_as_claimed(reach, said):
    assert codes(shapely.box(0, 0, 20 + reach, 20)) == said


def test_under_a_thin_line_the_film_runs_straight_through_and_under_a_wide_one_it_does_not():
    thin = shapely.box(20, 0, 21.2, 20)
    assert codes(shapely.box(0, 0, 21.2, 20), upper=thin) == set()
    assert codes(shapely.box(0, 0, 20.6, 20), upper=thin) == {"film-overlap-short"}
    assert codes(shapely.box(0, 0, 21.9, 20), upper=shapely.box(20, 0, 21.9, 20)) == {"film-overlap-wide"}


def test_where_another_film_lies_already_nothing_is_lacking_and_nothing_may_be_added():
    taken = shapely.box(20, 0, 21, 8)
    assert codes(shapely.box(0, 0, 20.6, 20).difference(taken), taken=taken) == set()
    assert codes(shapely.box(0, 0, 20.6, 20), taken=taken) == {"film-three-thick"}


def test_what_lies_under_another_film_is_no_error_of_the_edge_and_what_lies_on_bare_is():
    bare_beside = shapely.box(20, 0, 40, 12)
    bed = Bed(
        shapely.box(0, 0, 40, 20), OWN, UnderFilm((bare_beside,), 0.6), shapely.buffer(bare_beside, 1e-4)
    )
    good = OWN.union(shapely.box(20, 0, 20.6, 12))
    assert film_edge(good, bed).off.max_mm < 0.001
    assert film_edge(OWN.union(shapely.box(20, 0, 20.6, 12.05)), bed).off.max_mm > 0.04


def test_each_place_is_told_with_its_edge():
    (place,) = overlaps_in(shapely.box(0, 0, 20.6, 20), OWN, UnderFilm((UPPER,), 0.6))
    assert place.why == "overlap"
    assert place.size_mm == pytest.approx(20.0, abs=0.01)
    assert 20.0 < place.at[0] < 20.6
