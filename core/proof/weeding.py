"""Weed lines in a film's drawing: as many as stated, in the waste, clear of every piece and mark."""

import shapely

from core.findings import Finding
from core.proof.claims import FilmClaim
from core.proof.layers import NamedLayers
from core.proof.polygons import flat_ring
from core.proof.readback import HEIGHT_WITHIN, breach

#: mm between a weed line and what is kept.
CLEAR_OF = 2.0


def weed_findings(drawing: NamedLayers, film: FilmClaim) -> tuple[Finding, ...]:
    """Stops: weed lines that come near a piece, leave the sheet box, or are not as many as stated.

    The drawing holds all copies.
    """
    layers, path = drawing.layers, drawing.path
    lines = [shapely.LineString(one.points) for one in layers.of("weeding") if not one.is_closed]
    if len(lines) != film.weed_lines:
        text = f"{path} has {len(lines)} weed lines, not {film.weed_lines:g}."
        return (breach("weed-lines-differ", text),)
    if not lines:
        return ()
    kept = [
        shapely.Polygon(flat_ring(one.points, one.bulges))
        for name in (f"film-{film.name}", "marks")
        for one in layers.of(name)
        if one.is_closed and len(one.points) * (1 + one.bulges.any()) > 2
    ]
    near, _ = shapely.STRtree(kept).query(lines, predicate="dwithin", distance=CLEAR_OF)
    if near.size:
        at = shapely.get_coordinates(lines[int(near[0])])[0]
        text = f"A weed line in {path} comes nearer than {CLEAR_OF:g} mm to a piece or a mark."
        return (breach("weed-line-crosses", text, (float(at[0]), float(at[1]))),)
    sheet = shapely.buffer(layers.area("weeding"), HEIGHT_WITHIN)
    if not shapely.contains(sheet, lines).all():
        return (breach("weed-line-crosses", f"A weed line in {path} leaves the sheet box."),)
    return ()
