"""What tells a cutter's program from a wrong one: the size witness, and how long an SVG's bare number is."""

import numpy as np
from numpy.typing import NDArray

from core.findings import Finding
from core.proof.claims import FilmClaim
from core.proof.layers import Layers
from core.proof.readback import HEIGHT_WITHIN, breach

Points = NDArray[np.float64]

#: mm; an upright line is upright when its ends agree this well.
UPRIGHT_WITHIN = 1e-6
#: mm from tick to tick, the longest tick, and how exactly ticks stand.
TICK_STEP, LONGEST_TICK, TICK_WITHIN = 10.0, 5.0, 1e-3
#: Share by which a bare number's length may differ: over the longest sheet it is a thousandth of a mm.
UNIT_WITHIN = 1e-6


def witness_findings(path: str, layers: Layers, film: FilmClaim) -> tuple[Finding, ...]:
    """A stop when the size witness is missing, has not its length, or its ticks do not stand on it."""
    if not film.witness_mm:
        return ()
    lines = [one.points for one in layers.of("notes") if not one.is_closed and len(one.points) == 2]
    long = [line for line in lines if _is_witness(line, film.witness_mm)]
    if len(long) != 1:
        return (
            breach("witness-differs", f"{path} has no line of {film.witness_mm:g} mm to lay a ruler on."),
        )
    wanted = np.arange(0.0, film.witness_mm + TICK_STEP / 2.0, TICK_STEP)
    ticks = _ticks_on(long[0], lines)
    if ticks.shape == wanted.shape and np.abs(ticks - wanted).max() <= TICK_WITHIN:
        return ()
    return (breach("witness-differs", f"The ticks of the size witness in {path} do not stand 10 mm apart."),)


def _is_witness(line: Points, length_mm: float) -> bool:
    wide, tall = np.abs(line[1] - line[0])
    return bool(wide < UPRIGHT_WITHIN and abs(tall - length_mm) <= HEIGHT_WITHIN)


def _ticks_on(witness: Points, lines: list[Points]) -> Points:
    """(k,) mm from the witness's low end to where each tick crosses it in the tick's middle."""
    x, low = witness[0, 0], witness[:, 1].min()
    middles = [
        line.mean(axis=0) for line in lines if UPRIGHT_WITHIN < abs(line[1, 0] - line[0, 0]) <= LONGEST_TICK
    ]
    return np.array(sorted(y - low for at_x, y in middles if abs(at_x - x) <= TICK_WITHIN))


def unit_findings(path: str, layers: Layers, film: FilmClaim) -> tuple[Finding, ...]:
    """A stop when the SVG's bare numbers are of another length than stated."""
    if layers.page is None or layers.page.unit_mm is None:
        return ()
    if abs(layers.page.unit_mm / film.svg_unit_mm - 1.0) <= UNIT_WITHIN:
        return ()
    text = f"A bare number in {path} is {layers.page.unit_mm:.6f} mm long, not {film.svg_unit_mm:.6f}."
    return (breach("unit-differs", text),)
