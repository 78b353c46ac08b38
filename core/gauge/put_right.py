"""From what a machine does wrong to the correction that makes it good.

A gauge that was cut with a correction C shows what is left, R (plane maps). Machine and correction together
are R, so that C after the inverse of R is the whole correction: it stands on what the gauge was cut with,
not on what the table says by now, and reading the same gauge twice gives the same.
"""

from math import atan, tan

from core.gauge.feature import SCALE_X, SCALE_Y, SKEW, WIDTH, Floats
from core.sheet.correction import Correction


def put_right(errors: Floats, cut_with: Correction) -> Correction:
    """The correction of the machine; errors (6,) as in feature.py, cut_with the gauge's own correction."""
    scale_x, scale_y, lean = float(errors[SCALE_X]), float(errors[SCALE_Y]), tan(float(errors[SKEW]))
    # C is (a x + c y, b y) with c = tan(skew) b; the inverse of R is ((x - lean y) / sx, y / sy).
    a, b = cut_with.scale_x, cut_with.scale_y
    c = tan(cut_with.skew) * b
    whole_x, whole_y = a / scale_x, b / scale_y
    across = c / scale_y - a * lean / scale_x
    return Correction(whole_x, whole_y, atan(across / whole_y))


def width_put_right(errors: Floats, cut_with_mm: float) -> float:
    """By how much wider, mm, the machine cuts than its bit or knife says."""
    return cut_with_mm + float(errors[WIDTH])
