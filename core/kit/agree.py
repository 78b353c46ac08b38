"""How well any number of readings agree with the marks of a kit: the residual calculator.

Readings are what the controller shows over marks of the sheet; the router's stated correction is undone
first. The edge that matters is the part's own, read from the kit's drawing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.errors import BadValue, UnreadableFile
from core.findings import Point
from core.job.on_stock import Reading
from core.proof.layers import read_layers
from core.proof.report_fields import REPORT_NAME, report_values
from core.sheet.correction import Correction
from core.sheet.layout import ON_SHEET
from core.sheet.pose import Agreement, agreement


@dataclass(frozen=True)
class ReadAt:
    """Where the controller stood, and over which place of the work zero's frame; None: the next mark; mm."""

    read: Point
    meant: Point | None = None


def reading_of(text: str) -> ReadAt:
    """X,Y over the next mark, or X,Y = X,Y: what is read, over what place from the work zero. BadValue."""
    read, equals, meant = text.partition("=")
    kind = Reading()
    return ReadAt(kind.read(read), kind.read(meant) if equals else None)


def agreed(files: Mapping[str, bytes], readings: Sequence[ReadAt]) -> Agreement:
    """Best turn, shift and scale, misses, and what is left at the part's edge.

    Raises BadValue for fewer than two readings or more than there are marks, UnreadableFile for no kit.
    """
    if REPORT_NAME not in files:
        raise UnreadableFile(f"There is no {REPORT_NAME} here, so this is no kit.")
    report = report_values(files[REPORT_NAME])
    try:
        zero = np.array(report["frame"]["zero_at"], dtype=float)
        marks = [mark["at"] for mark in report["marks"] if mark["kind"] in ON_SHEET]
        drawings = [
            one["path"] for one in report["files"] if (one["role"], one["format"]) == ("part-drawing", "svg")
        ]
        correction = Correction.as_reported(report["correction"]["router"])
        edge = read_layers(files[drawings[0]], "svg", None).area("as-cut")
    except (KeyError, TypeError, IndexError, ValueError) as error:
        raise UnreadableFile(f"{REPORT_NAME} is not a kit's report, or its drawing is missing.") from error
    meant = _meant(readings, [_less(mark, zero) for mark in marks])
    if len(readings) < 2:
        raise BadValue("One reading tells no turn; give two or more.")
    if max(np.hypot(*(np.array(one) - np.array(other))) for one in meant for other in meant) <= 0.0:
        raise BadValue("All readings are over one place; give two places or more.")
    corners = shapely.get_coordinates(shapely.convex_hull(edge)) - zero
    read = [correction.back(reading.read) for reading in readings]
    return agreement(meant, read, [(float(x), float(y)) for x, y in corners.tolist()])


def _less(at: Sequence[float], zero: np.ndarray) -> Point:
    x, y = (np.array(at, dtype=float) - zero).tolist()
    return float(x), float(y)


def _meant(readings: Sequence[ReadAt], marks: Sequence[Point]) -> list[Point]:
    """The place of each reading: as told, else the marks in their order."""
    unused = iter(marks)
    meant = []
    for reading in readings:
        place = reading.meant if reading.meant is not None else next(unused, None)
        if place is None:
            raise BadValue(f"There are more readings than the {len(marks)} marks of this sheet.")
        meant.append(place)
    return meant


def agreement_lines(found: Agreement) -> tuple[str, ...]:
    """What was found, in words."""
    (x, y), turn = found.pose.shift, np.degrees(found.pose.turn)
    misses = ", ".join(f"{miss:.3f}" for miss in found.misses_mm)
    return (
        f"best turn {turn:.4f}°, shift {x:.3f}, {y:.3f} mm",
        f"best scale besides {100.0 * found.scale:.4f} %",
        f"each reading is off by mm: {misses}",
        f"left at the part's edge, for that scale and the readings' scatter: {found.edge_mm:.3f} mm",
    )
