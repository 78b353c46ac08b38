"""Strokes thickened and gaps opened: as wide as asked, within the bound, and at nobody's cost."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.change import as_regions
from core.decal.edits import Edits
from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.fine import FineWish, fit_for_knife
from core.decal.laying import Laying
from core.outline.polygon import to_polygon
from core.outline.region import Region

PART = as_regions(shapely.box(-10, -10, 40, 20))
BLOB = shapely.box(0, 0, 6, 6)


def stroke(coords, width):
    return shapely.LineString(coords).buffer(width / 2.0, cap_style="flat")


def made(areas, fine, inset=1.0, overlap=0.0):
    names = ("a", "b", "c")
    colours = ("#f0f0f0", "#808080", "#101010")
    sources = tuple(
        FilmSource(name, colour, as_regions(area))
        for name, colour, area in zip(names, colours, areas, strict=False)
    )
    return films_as_wished(sources, PART, FilmWish(inset, Laying(overlap), Edits(fine=fine)))


def area_of(film):
    return shapely.union_all(list(shapely.get_parts(to_polygon(film.regions, 1e-3))))


def width_across(area, at, direction):
    probe = shapely.LineString([np.subtract(at, direction), np.add(at, direction)])
    runs = shapely.get_parts(shapely.intersection(probe, area))
    return next(run.length for run in runs if run.distance(shapely.Point(at)) < 1e-6)


@given(st.floats(0.3, 0.75), st.floats(0.05, 0.3))
@settings(deadline=None, max_examples=25)
def test_a_stroke_grows_on_both_sides_to_what_is_asked_or_by_the_bound(width, most):
    area = shapely.union_all([BLOB, stroke([(5, 3), (14, 3)], width), shapely.box(14, 0, 20, 6)])
    films = made([area], FineWish(0.8, 0.0, most))
    (film,) = films.films
    wanted = min(0.8, width + 2.0 * most)
    assert width_across(area_of(film), (10.0, 3.0), (0, 3)) == pytest.approx(wanted, abs=0.045)
    assert shapely.difference(area_of(film), area.buffer(most + 0.005)).area < 1e-3
    assert shapely.difference(area, area_of(film)).area < 1e-6
    (moved,) = film.done.moved
    assert (moved.why, moved.to_mm) == ("grown", pytest.approx(wanted, abs=0.05))


def test_a_gap_is_opened_from_both_sides_and_the_pieces_stay_within_the_bound():
    area = shapely.union(shapely.box(0, 0, 6, 8), shapely.box(6.4, 0, 12, 8))
    (film,) = made([area], FineWish(0.0, 0.8, 0.3)).films
    assert width_across(shapely.box(-5, -5, 20, 20).difference(area_of(film)), (6.2, 4), (3, 0)) == (
        pytest.approx(0.8, abs=0.045)
    )
    assert shapely.difference(area.buffer(-0.3), area_of(film)).area < 1e-3
    assert [one.why for one in film.done.moved] == ["opened"]


def test_a_stroke_between_colours_takes_from_its_neighbours_and_all_share_one_edge():
    line = stroke([(10, -10), (10, 20)], 0.5)
    left, right = shapely.box(-10, -10, 9.75, 20), shapely.box(10.25, -10, 40, 20)
    films = {film.name: area_of(film) for film in made([left, right, line], FineWish(0.8)).films}
    assert width_across(films["c"], (10.0, 5.0), (3, 0)) == pytest.approx(0.8, abs=0.045)
    assert shapely.intersection(films["c"], shapely.union(films["a"], films["b"])).area < 1e-9
    whole = shapely.union_all(list(films.values()))
    assert whole.area == pytest.approx(48 * 28, abs=1e-6)


def test_nothing_grows_beyond_the_face():
    area = stroke([(-9.0, 0), (-9.0, 12)], 0.5)  # its left edge is cut off by the inset
    (film,) = made([area], FineWish(0.8, 0.0, 0.3)).films
    assert film.regions[0].outer.bounds()[0] == pytest.approx(-9.0)
    assert shapely.box(-9, -9, 39, 19).buffer(1e-6).covers(area_of(film))


@pytest.mark.parametrize("gap", [0.5, 0.9])
def test_a_stroke_does_not_grow_where_that_would_close_a_gap(gap):
    area = shapely.union(stroke([(0, 0), (10, 0)], 0.5), stroke([(0, 0.5 + gap), (10, 0.5 + gap)], 0.5))
    fitted = fit_for_knife([area], shapely.box(-9, -9, 30, 15), FineWish(0.8))
    assert fitted.moved == ((),)
    assert fitted.change.is_nothing


def test_a_gap_is_not_opened_where_that_would_thin_a_stroke():
    area = shapely.union(shapely.box(0, 0, 10, 0.9), shapely.box(0, 1.3, 10, 6))
    fitted = fit_for_knife([area], shapely.box(-9, -9, 30, 15), FineWish(0.0, 0.8, 0.3))
    assert fitted.moved == ((),)


def test_nothing_asked_nothing_moved():
    assert FineWish().is_nothing
    assert FineWish(0.8, 0.8, 0.0).is_nothing
    assert not FineWish(0.8).is_nothing


def test_what_is_too_fine_is_told_at_its_place_and_no_more_once_it_is_mended():
    area = shapely.union_all([BLOB, stroke([(5, 3), (14, 3)], 0.5), shapely.box(14, 0, 20, 6)])
    area = area.difference(shapely.box(2, 2, 2.4, 8))
    told = {one.code: one.at for one in made([area], FineWish()).findings}
    assert told["thin-stroke"] == pytest.approx((10, 3), abs=1.0)
    assert told["thin-gap"] == pytest.approx((2.2, 4), abs=2.0)
    mended = {one.code for one in made([area], FineWish(0.9, 0.9, 0.3)).findings}
    assert not {"thin-stroke", "thin-gap"} & mended


def test_every_region_that_is_made_is_one():
    area = shapely.union_all([BLOB, stroke([(5, 3), (14, 3)], 0.5), shapely.box(14, 0, 20, 6)])
    for film in made([area], FineWish(0.8)).films:
        assert all(isinstance(region, Region) for region in film.regions)
        assert to_polygon(film.regions, 1e-3).is_valid
