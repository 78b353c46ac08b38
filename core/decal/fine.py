"""Strokes thickened and gaps opened, when asked, where a film is too fine for the knife.

1. Where a film, or the ground between its strokes, is thinner than asked (thin.py), discs are laid along
   its middle: as wide as asked, but never so that an edge moves by more than the bound.
2. A stroke grows into bare ground or into a neighbour, which gives way, and never beyond the face.
3. Nothing is done at a place where it would make another place too fine: that is told instead.

The middle is found by shrinking in steps (the skeleton by openings, Serra 1982); what is left of a strip
just before it vanishes lies along it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.decal.change import NO_AREA, Change, Polygon, changed
from core.decal.thin import CHORDS, LEAST_GAP_MM, LEAST_STROKE_MM, ThinPlace, opened, thin_places
from core.findings import Point

#: mm between the distances by which an area is shrunk: a width comes out up to twice that wider than asked.
STEP_MM = 0.02
#: Steps by which what is left must have vanished to be the middle.
VANISHED = 1.5
#: mm: edges that move by less are left alone, and how far a gain reaches into its film.
LEAST_MOVE_MM, INTO_MM = 0.01, 0.03
#: mm that a moved edge may stray for fewer corners: a tenth of a cutter's step.
ROUGH_MM = 0.003
#: mm round the films in which gaps are looked for.
ROUND_MM = 2.0
#: Share of a gap in which another film may show; else it is that film's stroke.
MOST_SHOWN = 0.1


@dataclass(frozen=True)
class FineWish:
    """Strokes are made stroke_mm wide, gaps gap_mm (0: as they are); no edge moves by more than most_mm."""

    stroke_mm: float = 0.0
    gap_mm: float = 0.0
    most_mm: float = 0.2

    @property
    def is_nothing(self) -> bool:
        """Whether every stroke and gap stays as it is."""
        return self.most_mm <= 0.0 or (self.stroke_mm <= 0.0 and self.gap_mm <= 0.0)


AS_FINE = FineWish()


@dataclass(frozen=True)
class MovedEdge:
    """A place (frame, mm) where a stroke was "grown" or a gap "opened", from one width to another."""

    at: Point
    why: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, eq=False)
class Fitted:
    """The change of all films, and of each the places that were moved."""

    change: Change
    moved: tuple[tuple[MovedEdge, ...], ...]


@dataclass(frozen=True, eq=False)
class _Move:
    """What is to be moved at one place of a film."""

    film: int
    place: ThinPlace
    area: Polygon
    is_gap: bool


def fit_for_knife(films: Sequence[Polygon], face: Polygon, wish: FineWish) -> Fitted:
    """How films (polygons, the lowest first) are changed so that strokes and gaps are as wide as asked."""
    moves = [*_strokes(films, wish), *_gaps(films, wish)]
    after, kept = _made(films, face, moves), moves
    while (good := [move for move in kept if not _spoils(move, after)]) != kept:
        kept, after = good, _made(films, face, good)
    gains, losses = _areas(kept, len(films))
    told = [
        tuple(_told(move, after, wish) for move in kept if move.film == place) for place in range(len(films))
    ]
    return Fitted(Change.of_areas(gains, losses), tuple(told))


def gap_places(film: Polygon, others: Sequence[Polygon], width_mm: float) -> list[ThinPlace]:
    """Where bare ground between strokes of a film is narrower than width_mm; not where another film shows."""
    ground = shapely.difference(_around(film), film)
    shown = shapely.union_all(list(others)) if others else NO_AREA
    return [
        place
        for place in thin_places(ground, width_mm)
        if shapely.area(shapely.intersection(place.area, shown)) < MOST_SHOWN * shapely.area(place.area)
    ]


def _around(film: Polygon) -> Polygon:
    return shapely.buffer(shapely.envelope(film), ROUND_MM, join_style="mitre")


def _strokes(films: Sequence[Polygon], wish: FineWish) -> list[_Move]:
    if wish.stroke_mm <= 0.0:
        return []
    moves = []
    for film, area in enumerate(films):
        for place in thin_places(area, wish.stroke_mm):
            wider = widened(area, place, wish.stroke_mm, wish.most_mm)
            gain = _clean(wider, shapely.difference(wider, area))
            moves.append(_Move(film, place, gain, is_gap=False))
    return [move for move in moves if not shapely.is_empty(move.area)]


def _gaps(films: Sequence[Polygon], wish: FineWish) -> list[_Move]:
    if wish.gap_mm <= 0.0:
        return []
    moves = []
    for film, area in enumerate(films):
        if shapely.is_empty(area):
            continue
        others = [other for row, other in enumerate(films) if row != film]
        ground = shapely.difference(_around(area), area)
        for place in gap_places(area, others, wish.gap_mm):
            wider = widened(ground, place, wish.gap_mm, wish.most_mm)
            loss = _clean(wider, shapely.intersection(wider, area))
            moves.append(_Move(film, place, loss, is_gap=True))
    return [move for move in moves if not shapely.is_empty(move.area)]


def widened(area: Polygon, place: ThinPlace, width_mm: float, most_mm: float) -> Polygon:
    """Discs along the middle of a thin place: width_mm wide, or most_mm beyond the area on both sides."""
    x_min, y_min, x_max, y_max = shapely.bounds(shapely.buffer(place.area, 2.0 * width_mm)).tolist()
    near = shapely.clip_by_rect(area, x_min, y_min, x_max, y_max)
    depths = np.arange(0.0, width_mm / 2.0 + STEP_MM, STEP_MM)
    cores = shapely.buffer(near, -depths, quad_segs=CHORDS)
    deeper = shapely.buffer(cores[1:], VANISHED * STEP_MM, quad_segs=CHORDS)
    around = shapely.buffer(place.area, STEP_MM)
    middles = shapely.intersection(shapely.difference(cores[:-1], deeper), around)
    reaches = np.minimum(width_mm / 2.0, depths[:-1] + most_mm)
    return shapely.union_all(shapely.buffer(middles, reaches, quad_segs=2 * CHORDS))


def _clean(wider: Polygon, moved: Polygon) -> Polygon:
    """What is moved, without threads along edges that stay, reaching a little into what it is joined to."""
    wide = shapely.buffer(moved, -LEAST_MOVE_MM / 2.0, quad_segs=1)
    mask = shapely.buffer(wide, LEAST_MOVE_MM / 2.0 + INTO_MM, quad_segs=2)
    return shapely.simplify(shapely.intersection(wider, mask), ROUGH_MM)


def _areas(moves: Sequence[_Move], count: int) -> tuple[list[Polygon], list[Polygon]]:
    """Of each film all that it gains, nothing of it gained by two, and all that it gives up."""
    gains: list[Polygon] = []
    taken: Polygon = NO_AREA
    for film in range(count):
        grown = [move.area for move in moves if move.film == film and not move.is_gap]
        gain = shapely.difference(shapely.union_all(grown), taken) if grown else NO_AREA
        taken = shapely.union(taken, gain)
        gains.append(gain)
    losses: list[Polygon] = [
        shapely.union_all([move.area for move in moves if move.film == film and move.is_gap])
        for film in range(count)
    ]
    return gains, losses


def _made(films: Sequence[Polygon], face: Polygon, moves: Sequence[_Move]) -> list[Polygon]:
    return changed(films, *_areas(moves, len(films)), face)


def _spoils(move: _Move, after: Sequence[Polygon]) -> bool:
    """Whether a move makes another place too fine: a stroke of its own film or a neighbour's, or a gap."""
    near = shapely.box(*shapely.bounds(shapely.buffer(move.area, 2.0 * LEAST_GAP_MM)).tolist())
    at_it = shapely.buffer(move.area, STEP_MM)
    films = [shapely.intersection(film, near) for film in after]
    others = [film for row, film in enumerate(films) if row != move.film]
    judged = [films[move.film]] if move.is_gap else others
    fine = [place for film in judged for place in thin_places(film, LEAST_STROKE_MM - 2.0 * STEP_MM)]
    if not move.is_gap:
        ground = shapely.difference(near, films[move.film])
        shown = shapely.union_all(others) if others else NO_AREA
        bare = shapely.difference(ground, shown)
        fine += [
            place
            for place in thin_places(ground, LEAST_GAP_MM - 2.0 * STEP_MM)
            if shapely.intersects(place.area, bare)
        ]
    return any(shapely.intersects(place.area, at_it) for place in fine)


def _told(move: _Move, after: Sequence[Polygon], wish: FineWish) -> MovedEdge:
    """The place with the width that it has got."""
    asked, why = (wish.gap_mm, "opened") if move.is_gap else (wish.stroke_mm, "grown")
    area = after[move.film]
    if move.is_gap:
        area = shapely.difference(_around(area), area)
    before = move.place.width_mm
    widths = np.arange(asked, before, -STEP_MM)
    near = shapely.intersection(area, shapely.buffer(move.place.area, 2.0 * asked))
    reached = (width for width in widths.tolist() if _is_as_wide(near, move.place.area, width))
    return MovedEdge(move.place.at, why, before, next(reached, before))


def _is_as_wide(area: Polygon, place: Polygon, width_mm: float) -> bool:
    wide = shapely.buffer(opened(area, width_mm / 2.0 - STEP_MM), STEP_MM)
    return bool(shapely.covers(wide, shapely.buffer(place, -STEP_MM)))
