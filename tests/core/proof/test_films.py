import numpy as np
import pytest
import shapely

from core.findings import Level
from core.proof.claims import DroppedClaim, FilmClaim
from core.proof.films import Bed, beds, face_of, film_edge, film_findings, outside_by, wanted_film
from core.proof.readback import Why
from core.proof.rim import Asked

PART = shapely.box(0, 0, 40, 20)
FACE = face_of(PART, 1.0)
LEFT = shapely.box(-5, -5, 15, 25)


def codes(film, patch=LEFT, face=FACE):
    found = film_findings("sky.svg", film_edge(film, Bed(face, wanted_film(patch, face))))
    assert all(finding.level is Level.STOP and "sky.svg" in finding.text for finding in found)
    return {finding.code for finding in found}


def test_the_face_is_the_part_less_the_inset_openings_too():
    ring = PART.difference(shapely.box(10, 5, 30, 15))
    assert face_of(PART, 1.0).bounds == pytest.approx((1, 1, 39, 19))
    wanted = 38 * 18 - (22 * 12 - (4 - np.pi))  # the opening grows with round corners
    assert face_of(ring, 1.0).area == pytest.approx(wanted, abs=1e-2)
    assert face_of(PART, 0.0).equals(PART)


def test_a_film_is_its_patch_inside_the_face():
    assert wanted_film(LEFT, FACE).bounds == pytest.approx((1, 1, 15, 19))
    assert codes(shapely.box(1, 1, 15, 19)) == set()
    assert codes(shapely.box(1, 1, 15.009, 19)) == set()


def test_a_patch_that_only_touches_the_face_gives_no_film():
    assert wanted_film(shapely.box(-5, -5, 1.000001, 25), FACE).is_empty
    assert wanted_film(shapely.box(50, 0, 60, 10), FACE).is_empty


@pytest.mark.parametrize(
    ("film", "said"),
    [
        (shapely.box(0.98, 1, 15, 19), {"film-outside", "film-differs"}),
        (shapely.box(1, 1, 15.02, 19), {"film-differs"}),
        (shapely.box(1, 1, 15, 18.98), {"film-differs"}),
        (shapely.Polygon(), {"film-differs"}),
        (shapely.box(1, 1, 15, 19).difference(shapely.box(5, 5, 6, 6)), {"film-differs"}),
        (shapely.box(1, 1, 15, 19).union(shapely.box(30, 5, 31, 6)), {"film-differs"}),
    ],
)
def test_film_beyond_the_face_or_other_than_its_patch_is_a_stop(film, said):
    assert codes(film) == said


def test_how_far_a_film_comes_out_of_the_face_is_measured():
    assert outside_by(shapely.box(0.7, 1, 15, 19), FACE) == pytest.approx(0.3)
    assert outside_by(shapely.box(1, 1, 15, 19), FACE) == pytest.approx(0.0, abs=1e-9)
    assert outside_by(shapely.box(2, 2, 15, 18), FACE) == 0.0


@pytest.mark.parametrize(("beyond_mm", "said"), [(0.0, False), (8e-4, False), (0.0012, True), (0.02, True)])
def test_a_thread_that_two_flattened_edges_leave_is_no_film_and_more_than_that_is(beyond_mm, said):
    """A lower film that runs straight through under a thin upper one, to the upper one's far edge."""
    patches = [shapely.box(0, 0, 10, 19), shapely.box(10, 0, 11.2, 19)]
    claims = [FilmClaim("low", 0.0, (30.0, 30.0), 0.6, 1.0), FilmClaim("line", 0.0, (30.0, 30.0), 0.6, 2.0)]
    low = beds([*map(Asked, patches)], PART, claims)[0]
    film = shapely.box(0, 0, 11.2 + beyond_mm, 19)
    assert bool(film_findings("low.svg", film_edge(film, low))) is said


@pytest.mark.parametrize(("area", "is_out"), [(4.0, True), (4.1, False)])
def test_a_piece_is_left_out_only_as_claimed_and_is_listed(area, is_out):
    patch = shapely.union(shapely.box(1, 1, 10, 10), shapely.box(20, 1, 22, 3))
    film = FilmClaim("sky", 0.0, (30.0, 30.0), dropped=(DroppedClaim((21.0, 2.0), area),))
    (bed,) = beds([Asked(patch)], PART, [film])
    assert [one.why for one in bed.left_out()] == [Why.DROPPED] * is_out
    assert bed.own.area == pytest.approx(81.0 if is_out else 85.0)
