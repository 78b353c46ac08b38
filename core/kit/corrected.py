"""A film's drawing as it is written for a cutter whose scales and skew were measured."""

from math import ceil

import numpy as np

from core.decal.sheet_box import SheetBox
from core.drawing.drawing import Circle, Drawing, LayerOf, Line, Shape
from core.findings import Point
from core.job.job import Job
from core.job.kinds import NEVER
from core.job.resolve import cutter_correction, film_stock_of, router_correction
from core.outline.bent import bent, pieces_for
from core.outline.loop import Loop
from core.sheet.correction import Correction


def corrected_words(job: Job) -> str:
    """What of the kit is corrected for its machine, as every paper says it; nothing where nothing is."""
    both = (
        ("programs", "router", router_correction(job), job.machine.gauged),
        ("film files", "cutter", cutter_correction(job), job.knife.gauged),
    )
    return "".join(
        f" The {files} are corrected for the {machine}: {correction.words()}{_gauged(day)}."
        for files, machine, correction, day in both
        if not correction.is_none
    )


def corrected_briefly(job: Job) -> str:
    """The same in one line, for papers that show sizes as they come out."""
    both = (("programs", router_correction(job)), ("film files", cutter_correction(job)))
    files = " and ".join(what for what, correction in both if not correction.is_none)
    return f"Corrected for the machine: {files}. Sizes on this paper are as they come out." if files else ""


def _gauged(day: str) -> str:
    return "" if day == NEVER else f" (gauge read on {day})"


def corrected_drawing(drawing: Drawing, correction: Correction) -> Drawing:
    """Everything in it corrected about the frame's origin; the very same where nothing is to be."""
    if correction.is_none:
        return drawing
    x_min, y_min, x_max, y_max = drawing.box
    corners = correction.of(np.array([[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]]))
    (left, near), (right, far) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    layers = tuple(
        LayerOf(layer.layer, layer.name, layer.colour, tuple(_shape(one, correction) for one in layer.shapes))
        for layer in drawing.layers
    )
    return Drawing(f"{drawing.title}, corrected for its cutter", (left, near, right, far), layers)


def _shape(shape: Shape, correction: Correction) -> Shape:
    match shape:
        case Line(start, end):
            return Line(_point(start, correction), _point(end, correction))
        case Circle(centre, diameter):
            return corrected_loop(Loop.circle(centre, diameter / 2.0), correction)
        case Loop():
            return corrected_loop(shape, correction)


def corrected_loop(loop: Loop, correction: Correction) -> Loop:
    """The Loop as written, its arcs as short arcs within 0.001 mm of the bent ones."""
    segments = loop.segments()
    mapped, _, _ = bent(segments, pieces_for(segments, correction.bends), correction.of)
    return Loop(mapped.starts, mapped.bulges)


def _point(point: Point, correction: Correction) -> Point:
    x, y = correction.of(np.array([point]))[0].tolist()
    return float(x), float(y)


def box_to_read(job: Job, box: SheetBox) -> tuple[float, float]:
    """Width and depth of the sheet box as the cutter's program shows them: as written, correction and all."""
    x_min, y_min, x_max, y_max = corrected_loop(box.loop, cutter_correction(job)).bounds()
    return x_max - x_min, y_max - y_min


def piece_to_load(job: Job, box: SheetBox) -> tuple[float, float]:
    """Width and length of film that it takes, in whole mm."""
    wide, long = film_stock_of(job).piece_for(box_to_read(job, box))
    return float(ceil(round(wide, 6))), float(ceil(round(long, 6)))
