"""Films whose colours cannot be told apart: one of them is most likely no film of its own.

Colours are compared in Oklab (core/picture/oklab.py), where a distance of 0.02 is just seen side by side.
On the bench two rolls lie apart, in lamp light: practice asks for a few times that.
"""

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import shapely

from core.decal.film import Film
from core.findings import Finding, Level, Point
from core.outline.polygon import to_solid
from core.picture.oklab import Floats, to_oklab

#: Oklab distance; two and a half times what is just seen side by side (common practice, no source).
TOO_ALIKE = 0.05
#: mm that polygons stray from arcs; a place to look at needs no better.
FLATNESS_MM = 0.05


def alike_findings(films: Sequence[Film]) -> list[Finding]:
    """A caution for each two films that cannot be told apart, where they come nearest to each other."""
    found = []
    for one, other in combinations(films, 2):
        apart = float(np.linalg.norm(_lab(one.colour) - _lab(other.colour)))
        if apart < TOO_ALIKE:
            text = (
                f"The films {one.name} ({one.colour}) and {other.name} ({other.colour}) cannot be told apart."
            )
            remedy = (
                "Make them one colour (picture.merged), or mark the two rolls well before you cut, and weed "
                "one film at a time."
            )
            found.append(
                Finding(Level.CAUTION, "colours-too-alike", text, remedy, _where_nearest(one, other))
            )
    return found


def _lab(colour: str) -> Floats:
    return to_oklab([int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)])


def _where_nearest(one: Film, other: Film) -> Point:
    solids = [to_solid(film.regions, FLATNESS_MM) for film in (one, other)]
    x, y = shapely.get_coordinates(shapely.shortest_line(*solids))[0].tolist()
    return float(x), float(y)
