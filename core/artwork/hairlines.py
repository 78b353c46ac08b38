"""SVG drawings of edges: nothing is filled, and the lines are too thin to be meant as strokes.

That is how drawings for machines are written, our own among them: the line is the edge, its width nothing.
"""

from dataclasses import replace

from core.artwork.contours import JOIN_MM, DrawnLine, contours_of
from core.artwork.ink import Drawn, box_round
from core.findings import Finding, Level

#: Share of a drawing's longer side up to which a stroke is a hairline: 0.25 mm in 100.
HAIRLINE = 0.0025

#: The same share up to which ends belong together where the drawing states no size.
JOIN = 1e-4


def is_of_edges(drawn: Drawn) -> bool:
    """Whether every ink is a hairline."""
    if any(ink.pen is None for ink in drawn.inks):
        return False
    widths = [2.0 * ink.pen.half * ink.place.stretch() for ink in drawn.inks if ink.pen]
    return max(widths) <= HAIRLINE * _side(drawn)


def of_edges(drawn: Drawn) -> Drawn:
    """The closed contours of its lines; the drawing as it is where no line is closed."""
    gap = JOIN * _side(drawn) if drawn.unit_mm is None else JOIN_MM / drawn.unit_mm
    lines = [
        DrawnLine(path.mapped(ink.place), ink.colour, ink.layer) for ink in drawn.inks for path in ink.paths
    ]
    contours = contours_of(lines, gap)
    if not contours.inks:
        return drawn
    findings = (*drawn.findings, AS_EDGES, *contours.findings)
    return replace(drawn, inks=contours.inks, page=None, has_holes=True, findings=findings)


def _side(drawn: Drawn) -> float:
    x_min, y_min, x_max, y_max = box_round([ink.box() for ink in drawn.inks])
    return max(x_max - x_min, y_max - y_min)


AS_EDGES = Finding(
    Level.NOTE,
    "lines-as-edges",
    "Nothing in the drawing is filled and its lines are hair-thin, so closed lines are taken as edges.",
    "Fill the shapes, or draw thicker lines, if the lines themselves are meant.",
)
