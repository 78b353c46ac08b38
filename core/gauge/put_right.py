"""From what a machine does wrong to the correction that makes it good.

A gauge that was cut with a correction C shows what is left, R (plane maps). Machine and correction together
are R, so that C after the inverse of R is the whole correction: it stands on what the gauge was cut with,
not on what the table says by now, and reading the same gauge twice gives the same.
"""

from dataclasses import dataclass
from math import atan, degrees, hypot, tan

from core.gauge.feature import SCALE_X, SCALE_Y, SKEW, WIDTH, Floats
from core.gauge.solve import Solved
from core.sheet.correction import Correction


@dataclass(frozen=True)
class PutRight:
    """The whole correction of a machine, and how well it is known.

    width_mm: how much wider than told it cuts. Doubts are standard deviations, of a scale and of the skew
    (rad), None where the readings did not tell.
    """

    correction: Correction
    width_mm: float
    scale_doubt: float | None
    skew_doubt: float | None

    def choices(self) -> dict[str, str]:
        """As choices of the machine's row, in words that people type."""
        correction = self.correction
        said = {
            "scale_x": f"{100.0 * correction.scale_x:.4f} %",
            "scale_y": f"{100.0 * correction.scale_y:.4f} %",
            "skew": f"{degrees(correction.skew):.4f} deg",
            "width": f"{self.width_mm:.4f} mm",
        }
        if self.scale_doubt is not None:
            said["scale_doubt"] = f"{100.0 * self.scale_doubt:.4f} %"
        if self.skew_doubt is not None:
            said["skew_doubt"] = f"{100.0 * self.skew_doubt:.4f} %"
        return said


def put_right_by(solved: Solved, cut_with: Correction) -> PutRight:
    """What follows from a gauge that was cut with a correction."""
    told, deviations = solved.told, solved.deviations
    scales = told[SCALE_X] and told[SCALE_Y]
    # One doubt stands for both scales: the root of their mean square.
    scale = hypot(deviations[SCALE_X], deviations[SCALE_Y]) / 2.0**0.5 if scales else None
    skew = float(deviations[SKEW]) if told[SKEW] else None
    width = width_put_right(solved.errors, cut_with.width_mm)
    return PutRight(put_right(solved.errors, cut_with), width, scale, skew)


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
