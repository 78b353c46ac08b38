"""What a gauge says about a machine, in sentences."""

from collections.abc import Iterator
from math import degrees

from core.gauge.feature import LOST_X, LOST_Y, SCALE_X, SCALE_Y, SKEW, WIDTH
from core.gauge.put_right import put_right
from core.gauge.solve import SURE, Solved, is_lost_motion_shown
from core.sheet.correction import Correction


def lines_of(solved: Solved, deviation_mm: float) -> Iterator[str]:
    """One line for each thing that the readings tell, with its 95 %; then what is doubtful or not told."""
    errors, sure = solved.errors, SURE * solved.deviations
    if solved.told[SCALE_X]:
        yield _scale("x", float(errors[SCALE_X]), float(sure[SCALE_X]))
    if solved.told[SCALE_Y]:
        yield _scale("y", float(errors[SCALE_Y]), float(sure[SCALE_Y]))
    if solved.told[SKEW]:
        lean, within = degrees(float(errors[SKEW])), degrees(float(sure[SKEW]))
        yield f"skew: y leans {lean:+.3f} deg to the right, within {within:.3f}"
    if solved.told[WIDTH]:
        yield f"width: cuts {errors[WIDTH]:+.3f} mm wider than told, within {sure[WIDTH]:.3f}"
    for axis, place, shown in zip("xy", (LOST_X, LOST_Y), is_lost_motion_shown(solved), strict=True):
        if shown:
            yield (
                f"hint: {errors[place]:.2f} mm of motion seem lost at each turn in {axis}; look for play "
                "before correcting anything"
            )
    yield from _doubts(solved, deviation_mm)


def _scale(axis: str, scale: float, within: float) -> str:
    return f"scale {axis}: {100.0 * scale:.3f} % of what is told, within {100.0 * within:.3f}"


def _doubts(solved: Solved, deviation_mm: float) -> Iterator[str]:
    for one in solved.doubtful:
        yield (
            f"doubtful: {one.name} is {one.off_mm:+.2f} mm off what the others say and was left out; "
            "read it again"
        )
    names = ("scale x", "scale y", "skew", "width")
    missing = [name for name, told in zip(names, solved.told.tolist(), strict=False) if not told]
    if missing:
        yield f"not told by these readings: {', '.join(missing)}; it stays as it was"
    if solved.spare > 0 and solved.rms_mm > 2.0 * deviation_mm:
        yield f"the readings scatter by {solved.rms_mm:.2f} mm, more than the {deviation_mm:g} stated"
    if put_right(solved.errors, Correction()).is_large:
        yield "this is more than a machine in order is off: mend its steps, belts or rails first"
