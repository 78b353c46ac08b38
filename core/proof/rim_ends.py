"""Film where a rim's runs end: no less than its patch and the bands, no more than an end may have."""

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.by_hand import zones_of
from core.proof.claims import FilmClaim
from core.proof.films import Bed
from core.proof.layers import NamedLayers
from core.proof.readback import EDGE_WITHIN, breach
from core.proof.rim import Asked


def rim_end_findings(drawing: NamedLayers, film: FilmClaim, bed: Bed, asked: Asked) -> tuple[Finding, ...]:
    """A stop where film at the end of a rim has less than it must, or more than it may."""
    if asked.ends.is_empty:
        return ()
    zones = zones_of(bed.before, film.fine)
    freed = shapely.union_all([bed.gone, bed.corners, zones.wider, zones.narrower])
    area = shapely.union(drawing.layers.area(f"film-{film.name}"), bed.under.above)
    wrong = wrong_at_ends(area, bed.face, freed, asked)
    if wrong.is_empty:
        return ()
    at = wrong.representative_point()
    text = f"The film in {drawing.path} is not as asked where its rim ends."
    return (breach("rim-end", text, (at.x, at.y)),)


def wrong_at_ends(film: BaseGeometry, face: BaseGeometry, freed: BaseGeometry, asked: Asked) -> BaseGeometry:
    """What is lacking or too much at the ends; freed: where rounding and hands may change the film."""
    least = shapely.difference(shapely.intersection(asked.least, face), freed)
    lacks = shapely.difference(shapely.intersection(least, asked.ends), film.buffer(EDGE_WITHIN))
    own = shapely.difference(shapely.intersection(film, asked.ends), freed)
    over = shapely.difference(own, asked.most.buffer(EDGE_WITHIN))
    return lacks if not lacks.is_empty else over
