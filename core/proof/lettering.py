"""Rows of glyphs that were moved or made smaller as a whole: where their patches are then to be looked for.

A row is known by points in its glyphs. All that their outer edges bound moves with it; the film it lies on
closes the places that it leaves. What the face would then still take from it is a stop.
"""

from collections.abc import Sequence

import shapely
from shapely.affinity import scale, translate
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import FilmClaim, RowClaim
from core.proof.edges import distances_to, samples_along
from core.proof.polygons import areas_in
from core.proof.readback import EDGE_WITHIN, Excepted, Why, breach

#: A row is made no smaller than this, and never larger.
SMALLEST, LARGEST = 0.5, 1.0
#: mm: a glyph and the film round it each flatten their edge as it is drawn; no slit is left between them.
SEAM = 1e-3


def with_rows(
    patches: Sequence[BaseGeometry], films: Sequence[FilmClaim], rows: Sequence[RowClaim]
) -> list[BaseGeometry]:
    """The patches of the films with all rows where they are claimed to lie."""
    made, names = list(patches), [film.name for film in films]
    for row in rows:
        if row.film not in names or not SMALLEST <= row.scale <= LARGEST:
            continue
        glyphs = _glyphs(made[names.index(row.film)], row)
        stamps = shapely.union_all([shapely.Polygon(glyph.exterior) for glyph in glyphs])
        there = _moved(stamps, row)
        made = [
            _with_row(patch, name, row, shapely.union_all(glyphs), stamps, there)
            for patch, name in zip(made, names, strict=True)
        ]
    return made


def _glyphs(patch: BaseGeometry, row: RowClaim) -> list[shapely.Polygon]:
    parts = shapely.get_parts(patch)
    return [part for at in row.glyphs for part in parts[shapely.contains(parts, shapely.Point(at))]]


def _with_row(
    patch: BaseGeometry,
    name: str,
    row: RowClaim,
    glyphs: BaseGeometry,
    stamps: BaseGeometry,
    there: BaseGeometry,
) -> BaseGeometry:
    rest = areas_in(shapely.difference(patch, glyphs)) if name == row.film else patch
    within = areas_in(shapely.intersection(rest, stamps))
    closed = shapely.union(rest, shapely.buffer(stamps, SEAM))
    left = closed if name == row.ground else shapely.difference(rest, within)
    moved = [_moved(within, row), *([_moved(glyphs, row)] if name == row.film else [])]
    return areas_in(shapely.union_all([areas_in(shapely.difference(left, there)), *moved]))


def _moved(area: BaseGeometry, row: RowClaim) -> BaseGeometry:
    return translate(scale(area, row.scale, row.scale, origin=row.about), *row.shift)


def row_findings(
    patches: Sequence[BaseGeometry],
    films: Sequence[FilmClaim],
    rows: Sequence[RowClaim],
    faces: Sequence[BaseGeometry],
) -> list[Finding]:
    """Stops: a row that is said to be kept whole reaches out of the face all the same."""
    found = []
    for row in rows:
        for patch, film, face in zip(patches, films, faces, strict=True):
            if film.name != row.film:
                continue
            glyphs = shapely.union_all([_moved(glyph, row) for glyph in _glyphs(patch, row)])
            points = samples_along(glyphs).points
            out = points[~shapely.intersects(face, shapely.points(points))]
            beyond = float(distances_to(face, out).max(initial=0.0))
            if glyphs.is_empty or beyond > EDGE_WITHIN:
                text = f"A row of glyphs of the film {row.film} is clipped by {beyond:.3f} mm, or not there."
                found.append(breach("row-clipped", text, row.glyphs[0]))
    return found


def rows_moved(
    patches: Sequence[BaseGeometry], films: Sequence[FilmClaim], rows: Sequence[RowClaim]
) -> list[Excepted]:
    """Each row with the length of its edge."""
    names = [film.name for film in films]
    return [
        Excepted(
            row.glyphs[0],
            Why.MOVED,
            sum(float(glyph.length) for glyph in _glyphs(patches[names.index(row.film)], row)),
        )
        for row in rows
        if row.film in names
    ]
