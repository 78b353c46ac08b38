"""What is changed of films by hand before one is led on under the other: what each gains, and gives up.

A change is found on polygons and then made exactly: its edges are cut together with all others
(cut_films.py), so that a film and the neighbour that gives way to it have the same edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.region import Region, Regions

Polygon = shapely.Geometry
NO_AREA = shapely.Polygon()


@dataclass(frozen=True, eq=False)
class Change:
    """Of each film, the lowest first, what it gains and what it gives up, as Regions (frame, mm).

    What one film gains the others give up; none gains anything beyond the face.
    """

    gains: tuple[Regions, ...]
    losses: tuple[Regions, ...]

    @classmethod
    def of_areas(cls, gains: Sequence[Polygon], losses: Sequence[Polygon]) -> Self:
        """The same from polygons."""
        return cls(tuple(map(as_regions, gains)), tuple(map(as_regions, losses)))

    @property
    def is_nothing(self) -> bool:
        """Whether every film stays as it is."""
        return not any(self.gains) and not any(self.losses)

    def every(self) -> tuple[Regions, ...]:
        """Gains of all films, then losses of all."""
        return (*self.gains, *self.losses)


def changed(
    films: Sequence[Polygon], gains: Sequence[Polygon], losses: Sequence[Polygon], face: Polygon
) -> list[Polygon]:
    """Each film with what it gains inside the face, less what it and others take."""
    made = []
    for place, film in enumerate(films):
        taken = [gain for other, gain in enumerate(gains) if other != place and not shapely.is_empty(gain)]
        given = [*taken, losses[place]]
        area = shapely.difference(film, shapely.union_all(given)) if _is_some(given) else film
        gain = gains[place]
        made.append(shapely.union(area, shapely.intersection(gain, face)) if _is_some([gain]) else area)
    return made


def _is_some(areas: Sequence[Polygon]) -> bool:
    return any(not shapely.is_empty(area) for area in areas)


def as_regions(area: Polygon) -> Regions:
    """The polygons as Regions of straight lines."""
    parts = [part for part in shapely.get_parts(area) if shapely.area(part) > 0.0]
    return tuple(_as_region(part) for part in shapely.orient_polygons(parts))


def _as_region(part: shapely.Polygon) -> Region:
    loops = [_as_loop(shapely.get_coordinates(ring)[:-1]) for ring in (part.exterior, *part.interiors)]
    return Region(loops[0], tuple(loops[1:]))


def _as_loop(corners: np.ndarray) -> Loop:
    return Loop(corners, np.zeros(len(corners)))
