"""The part that a program leaves, against the outline.

The edge is judged as if the tabs had been cut flush. What a round bit cannot reach is told apart by the
closing of the outline (Serra 1982), computed here from the drawing's bytes: the edge must be that closing,
and where the closing is not the outline, the outline was out of the bit's reach.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.close_up import MOST_LOOKS, looks_at, worst_at
from core.proof.edges import EdgeDistance, distances_to, edge_distance
from core.proof.layers import NamedLayers
from core.proof.polygons import closed_by
from core.proof.readback import EDGE_WITHIN, Excepted, Why, breach

#: mm by which pieces of the outline's edge are joined into one stretch that was out of reach.
STRETCH_GAP = 0.5


@dataclass(frozen=True)
class PartEdge:
    """The part as it is left, how far its edge is from what the bit can reach, and what it cannot."""

    left: BaseGeometry
    edge: EdgeDistance
    excepted: tuple[Excepted, ...]
    findings: tuple[Finding, ...]


def left_of(stock: BaseGeometry, removed: BaseGeometry, outline: BaseGeometry) -> BaseGeometry:
    """The pieces of stock left that lie mostly on the outline's area: the part, without the waste."""
    pieces = shapely.get_parts(shapely.difference(stock, removed))
    on_part = shapely.area(shapely.intersection(pieces, outline)) > shapely.area(pieces) / 2.0
    return shapely.union_all(pieces[on_part])


def judge_edge(path: str, left: BaseGeometry, outline: BaseGeometry, bit_mm: float) -> PartEdge:
    """The edge that the program of this name left against the closing of the outline by the bit, mm."""
    reachable = closed_by(outline, bit_mm / 2.0)
    edge = edge_distance(left, reachable)
    findings: tuple[Finding, ...] = ()
    if edge.max_mm > EDGE_WITHIN:
        text = f"{path} leaves an edge that is up to {edge.max_mm:.4f} mm off the outline."
        findings = (breach("edge-differs", text, edge.at),)
    return PartEdge(left, edge, _out_of_reach(outline, reachable), findings)


def judge_closely(path: str, left: BaseGeometry, outline: BaseGeometry, bit_mm: float) -> PartEdge:
    """The same, and where the edge seems off it is held against a closing that leaves no hollow out."""
    part = judge_edge(path, left, outline, bit_mm)
    if not part.findings:
        return part
    radius = bit_mm / 2.0
    looks = looks_at(left, closed_by(outline, radius), EDGE_WITHIN)
    if len(looks.places) > MOST_LOOKS:
        return part
    worst = max(worst_at(left, outline, radius, looks.places), looks.elsewhere_mm)
    if worst > EDGE_WITHIN:
        return part
    return replace(part, edge=replace(part.edge, max_mm=worst), findings=())


def _out_of_reach(outline: BaseGeometry, reachable: BaseGeometry) -> tuple[Excepted, ...]:
    """The stretches of the outline's edge that the closing leaves, each as one."""
    kept = reachable.boundary.buffer(EDGE_WITHIN)
    lost = shapely.get_parts(shapely.difference(outline.boundary, kept))
    near = shapely.get_parts(shapely.union_all(shapely.buffer(lost, STRETCH_GAP / 2.0)))
    return tuple(_stretch(lost[shapely.intersects(lost, area)], reachable) for area in near)


def _stretch(lines: NDArray[np.object_], reachable: BaseGeometry) -> Excepted:
    """Where it lies deepest; a whole ring is an opening that closed up, anything else a rounded corner."""
    points = shapely.get_coordinates(lines)
    far = points[int(distances_to(reachable, points).argmax())]
    is_ring = shapely.is_ring(shapely.line_merge(shapely.union_all(lines)))
    why = Why.UNREACHED if is_ring else Why.ROUNDED
    return Excepted((float(far[0]), float(far[1])), why, float(shapely.length(lines).sum()))


def part_drawing_findings(
    drawing: NamedLayers,
    first: NamedLayers,
    films: Sequence[str],
    left: BaseGeometry,
    first_off: EdgeDistance,
) -> tuple[Finding, ...]:
    """Stops: an as-cut edge that the program does not leave, an outline or a patch that is lost or another.

    Outline and patches are held against the first drawing's. films: the names of all that have a patch here;
    first_off is how far the first drawing's as-cut edge is from what is left.
    """
    found: list[Finding] = []
    for name in ("part", *(f"patch-{film}" for film in films)):
        if not drawing.layers.of(name):
            found.append(breach("layer-missing", f"{drawing.path} has nothing on its layer {name}."))
        elif not drawing.layers.is_same_as(first.layers, name):
            off = edge_distance(drawing.layers.area(name), first.layers.area(name))
            found += _layer_findings(drawing, name, off, f"the one in {first.path}")
    is_same = drawing.layers.is_same_as(first.layers, "as-cut")
    as_cut = first_off if is_same else edge_distance(drawing.layers.area("as-cut"), left)
    return (*found, *_layer_findings(drawing, "as-cut", as_cut, "what the program leaves"))


def _layer_findings(drawing: NamedLayers, layer: str, off: EdgeDistance, what: str) -> tuple[Finding, ...]:
    if off.max_mm <= EDGE_WITHIN:
        return ()
    text = f"The layer {layer} in {drawing.path} is {off.max_mm:.4f} mm off {what}."
    return (breach("drawing-differs", text, off.at),)
