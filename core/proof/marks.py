"""One frame: every mark at the same coordinates in the program and in every drawing."""

from collections.abc import Sequence
from math import hypot, inf, pi, sqrt

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding, Point
from core.proof.claims import MarkClaim
from core.proof.layers import Layers
from core.proof.readback import MARK_WITHIN, breach
from core.proof.standing import CHIP

#: mm by which a mark's diameter may differ: what fine chords take from a circle, many times over.
DIAMETER_WITHIN = 0.01


def round_area(area: BaseGeometry) -> tuple[Point, float]:
    """The centre of an area, and the diameter mm of the circle with the same area; nowhere for nothing."""
    if area.is_empty:
        return (inf, inf), 0.0
    centre = shapely.centroid(area)
    return (float(centre.x), float(centre.y)), 2.0 * sqrt(float(area.area) / pi)


def drawn_mark_error(layers: Layers, marks: Sequence[MarkClaim], is_film: bool) -> float:  # noqa: FBT001 - a fact about the drawing
    """How far the drawn marks are from the claimed ones, mm; infinite when one is missing or too many."""
    areas = layers.marks()
    if len(areas) != len(marks):
        return float("inf")
    found = [round_area(area) for area in areas]
    return (
        max(
            min(_off(mark, mark.film_diameter_mm if is_film else mark.diameter_mm, *one) for one in found)
            for mark in marks
        )
        if marks
        else 0.0
    )


def bored_mark_error(removed: BaseGeometry, marks: Sequence[MarkClaim]) -> float:
    """How far the holes that the program bores are from the claimed marks, mm; a core left in one is none."""
    pieces = shapely.get_parts(removed).tolist()
    return max((_bored_off(pieces, mark) for mark in marks), default=0.0)


def _bored_off(pieces: Sequence[BaseGeometry], mark: MarkClaim) -> float:
    at = shapely.Point(mark.at)
    hole = next((piece for piece in pieces if piece.contains(at)), None)
    if hole is None or _has_core(hole):
        return float("inf")
    return _off(mark, mark.diameter_mm, *round_area(hole))


def _has_core(hole: BaseGeometry) -> bool:
    rings = [ring for piece in shapely.get_parts(hole) for ring in piece.interiors]
    return any(shapely.Polygon(ring).area > CHIP for ring in rings)


def _off(mark: MarkClaim, wanted_mm: float, centre: Point, diameter_mm: float) -> float:
    away = hypot(centre[0] - mark.at[0], centre[1] - mark.at[1])
    return away if abs(diameter_mm - wanted_mm) <= DIAMETER_WITHIN else float("inf")


def mark_findings(path: str, error_mm: float) -> tuple[Finding, ...]:
    """A stop when a mark is not where every other file has it."""
    if error_mm <= MARK_WITHIN:
        return ()
    how = (
        "are not all there, or of another size" if error_mm == float("inf") else f"lie {error_mm:.4f} mm off"
    )
    return (breach("marks-differ", f"The marks in {path} {how}."),)
