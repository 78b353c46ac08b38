"""A sheet whose loose parts are fitted by sight edges: the layout with its strips, and what is to be said."""

from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.region import Region, Regions
from core.sheet.edge_places import EdgePlaces
from core.sheet.fit_error import LAYINGS, SEED, Doubts, FitForecast, told_by
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.placement import Placement
from core.sheet.sight import LEAST_STRIPS, Sights, layings, sights_of
from core.sheet.sight_wrong import WrongFit, wrong_fits

#: mm at the worst place of a film above which a caution is told.
LARGEST_ERROR_MM = 0.3


@dataclass(frozen=True, eq=False)
class Sighted:
    """pieces: the strips of each loose piece of the first copy; marks of every copy; error_mm the worst."""

    layout: Layout
    pieces: tuple[Sights, ...]
    error_mm: float | None
    findings: tuple[Finding, ...]


def sighted(as_cut: Regions, stubs: tuple[tuple[Point, float], ...], layout: Layout) -> Sighted:
    """as_cut: the parts of the first copy, in the frame; stubs: of tabs, the middle and half the length."""
    pieces = tuple(sights_of(region.outer, as_cut, stubs) for region in as_cut)
    marks = tuple(moved(mark, copy) for copy in layout.copies for piece in pieces for mark in piece.marks)
    errors = [piece.error_mm for piece in pieces]
    error = None if None in errors else max(error for error in errors if error is not None)
    findings = tuple(
        finding for region, piece in zip(as_cut, pieces, strict=True) for finding in _told(region, piece)
    )
    return Sighted(replace(layout, marks=marks), pieces, error, findings)


def moved(mark: Mark, copy: Placement) -> Mark:
    """The same strip beside another copy."""
    strip = mark.strip
    return replace(mark, at=copy.point(mark.at), strip=copy.loop(strip) if strip is not None else None)


def sight_forecast(as_cut: Regions, pieces: tuple[Sights, ...], doubts: Doubts) -> FitForecast | None:
    """How well films and part will meet; the worst of the pieces, each of which is laid for itself."""
    if any(piece.error_mm is None for piece in pieces):
        return None
    found = [_forecast(region, piece, doubts) for region, piece in zip(as_cut, pieces, strict=True)]
    return max(found, key=lambda forecast: forecast.claim_mm)


def _forecast(region: Region, piece: Sights, doubts: Doubts) -> FitForecast:
    x_min, y_min, x_max, y_max = region.outer.bounds()
    corners = np.array([(x, y) for x in (x_min, x_max) for y in (y_min, y_max)])
    return told_by(layings(piece, corners, doubts, LAYINGS, np.random.default_rng(SEED)))


def _told(region: Region, piece: Sights) -> tuple[Finding, ...]:
    x_min, y_min, x_max, y_max = region.outer.bounds()
    at = ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)
    if len(piece.marks) < LEAST_STRIPS:
        return (_too_few(len(piece.marks), at),)
    wrong = wrong_fits(EdgePlaces.of(region.outer), piece.feet)
    return (_error(piece.error_mm, at), *(_fits_wrong(fit, at) for fit in wrong))


def _too_few(count: int, at: Point) -> Finding:
    return Finding(
        Level.STOP,
        "no-sight-edge",
        f"Only {count} runs of edge are long and even enough for sight edges, of {LEAST_STRIPS} needed.",
        "Make the shape larger, place the tabs closer together, or fit film and part in the frame.",
        at,
    )


def _error(error_mm: float | None, at: Point) -> Finding:
    remedy = "Turn the part to a key of your own, put a hole in it, or fit film and part in the frame."
    if error_mm is None:
        text = "The edges of this piece do not tell how it is turned: it has no up."
        return Finding(Level.CAUTION, "sight-edge-turns", text, remedy, at)
    text = (
        f"By its sight edges this piece is laid to {error_mm:.2f} mm, root mean square, at its worst place."
    )
    if error_mm > LARGEST_ERROR_MM:
        return Finding(Level.CAUTION, "sight-edge-poor", text, remedy, at)
    return Finding(Level.NOTE, "sight-edge", text, "Read every gap twice, with the light behind it.", at)


def _fits_wrong(fit: WrongFit, at: Point) -> Finding:
    how = "turned over" if fit.is_turned_over else f"turned by {abs(np.degrees(fit.turn)):.0f}°"
    text = f"This piece fits its sight edges {how} too, within {fit.miss_mm:.1f} mm."
    return Finding(
        Level.CAUTION,
        "sight-edge-ambiguous",
        text,
        "Mark its face and its top before it is cut free, and compare it with the picture on the job sheet.",
        at,
    )
