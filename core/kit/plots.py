"""Each film as a plot for the knife, made of the film's drawing: the same contours in the same order.

Arcs become chords, a machine's correction and the plot's shift come last, and where asked the path is
the one of the knife's shaft. A knife that compensation steers must point somewhere known when it is first
lowered: it is drawn along two short legs in the waste between films and sheet box.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

import numpy as np

from core.build import Build
from core.decal.knife import Knife, ShaftPath, along, shaft_path
from core.decal.sheet_box import GRID_MM, MARGIN_MM, SheetBox
from core.decal.start import begun_midway
from core.drawing.drawing import Circle, Drawing, Layer, Line, Shape
from core.drawing.plot import Plot, PlotPen, Stroke
from core.errors import BadShape
from core.findings import Finding, Level, Point
from core.job.resolve import cutter_correction
from core.kit.corrected import corrected_loop
from core.outline.loop import Loop
from core.outline.segments import Floats, Segments
from core.sheet.correction import Correction

#: mm by which a chord may cut off its arc: with half a unit each way (0.0177 mm) still within 0.03 mm.
CHORD_WITHIN = 0.005
#: mm from the plot's zero to the sheet box: a knife with the largest offset overruns the box by 1 mm.
ROOM_MM = 2.0
#: A leg of so many offsets leaves of any angle but the very opposite one less than a hundredth of a degree.
LEG_OFFSETS = 10.0
#: mm; shorter legs would not take the film along, and there is no more room than the sheet box leaves.
LEAST_LEG_MM = 3.0

PENS = {Layer.MARKS: PlotPen.MARKS, Layer.FILM: PlotPen.FILM, Layer.WEEDING: PlotPen.WEEDING}


@dataclass(frozen=True)
class PlotFrame:
    """How a film's point becomes a plot's: corrected for the cutter, then moved by shift, mm."""

    correction: Correction
    shift: Point

    def of(self, points: Floats) -> Floats:
        """(n, 2) mm of the plot."""
        return np.asarray(self.correction.of(points) + np.array(self.shift))


def plot_frame(made: Build, box: SheetBox) -> PlotFrame:
    """The frame in which the sheet box, as it is laid, stands ROOM_MM from the plot's zero."""
    correction = cutter_correction(made.job)
    is_behind = made.job.film.side == "behind"
    laid = box.loop.mirrored(made.layout.mirror_x) if is_behind else box.loop
    left, near, _, _ = corrected_loop(laid, correction).bounds()
    return PlotFrame(correction, (_to_zero(left), _to_zero(near)))


def _to_zero(low: float) -> float:
    return ROOM_MM - floor(low / GRID_MM) * GRID_MM


def film_plot(drawing: Drawing, knife: Knife, frame: PlotFrame) -> Plot:
    """The plot of a film's drawing, which is mirrored where the film is, but not yet corrected."""
    return Plot(tuple(Stroke(pen, frame.of(_corners(path))) for pen, path in _paths(drawing, knife)))


def _paths(drawing: Drawing, knife: Knife) -> Iterator[tuple[PlotPen, Segments]]:
    """What the shaft runs along; each path is entered with the knife as the one before left it."""
    heading = 0.0
    if knife.is_compensated:
        legs = _legs(drawing, knife.offset_mm)
        path = along(legs, knife, float(legs.headings_at(np.zeros(2))[0]))
        heading = path.heading
        yield PlotPen.WEEDING, path.segments
    for layer in drawing.layers:
        for shape in layer.shapes if layer.layer in PENS else ():
            path = _path(shape, knife, heading)
            heading = path.heading
            yield PENS[layer.layer], path.segments


def _path(shape: Shape, knife: Knife, heading: float) -> ShaftPath:
    match shape:
        case Loop():
            return shaft_path(begun_midway(shape), knife, heading)
        case Circle(centre, diameter):
            return shaft_path(Loop.circle(centre, diameter / 2.0), knife, heading)
        case Line(start, end):
            return along(Segments.along(np.array([start, end]), np.zeros(1)), knife, heading)


def _legs(drawing: Drawing, offset: float) -> Segments:
    """Two legs at right angles at a corner of the sheet box that is not clipped, half-way to the films."""
    weeding = [shape for layer in drawing.layers if layer.layer is Layer.WEEDING for shape in layer.shapes]
    box = weeding[-1]
    if not isinstance(box, Loop):
        raise BadShape("the last shape of a film drawing's weeding is its sheet box")
    x_min, y_min, x_max, y_max = box.bounds()
    is_clipped = not (box.points == np.array([x_min, y_min])).all(axis=1).any()
    corner, inward = np.array([x_min, y_min]), np.array([1.0, 1.0])
    if is_clipped:
        corner, inward = np.array([x_max, y_max]), -inward
    turn = corner + inward * MARGIN_MM / 2.0
    leg = inward * max(LEG_OFFSETS * offset, LEAST_LEG_MM)
    points = np.array([turn + leg * np.array([0.0, 1.0]), turn, turn + leg * np.array([1.0, 0.0])])
    return Segments.along(points, np.zeros(2))


def _corners(path: Segments) -> Floats:
    return np.vstack((path.corners(CHORD_WITHIN), path.ends[-1:]))


def range_finding(film: str) -> Finding:
    """A caution: no plot is written, since its numbers would not fit a plotter's."""
    text = f"The film {film} reaches farther than the 819 mm that a plot's numbers hold; it has no plot."
    return Finding(Level.CAUTION, "plot-too-long", text, "Cut it from its drawing, or make fewer copies.")
