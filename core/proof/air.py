"""The air cut: the part program again, raised as a whole, and nothing else."""

import numpy as np

from core.findings import Finding
from core.program.read.program import Program
from core.proof.readback import breach

#: mm; both files are rounded to their last decimal, an inch's fifth at worst.
SAME_WITHIN = 1e-3


def air_findings(path: str, air: Program, part: Program, raised_mm: float) -> tuple[Finding, ...]:
    """A stop where the air cut is not the part program raised by raised_mm, with the first line astray."""
    if len(air) != len(part):
        text = (
            f"{path}: it has {len(air)} moves and the part program {len(part)}, so it is not the same path."
        )
        return (breach("air-differs", text),)
    wrong = _strays(air.starts, part.starts, raised_mm) | _strays(air.ends, part.ends, raised_mm)
    wrong |= ~_alike(air.centres, part.centres).all(axis=1)
    wrong |= (air.turns != part.turns) | (air.is_rapid != part.is_rapid)
    wrong |= ~_alike(air.feeds, part.feeds) | ~_alike(air.rpm, part.rpm)
    if not wrong.any():
        return ()
    row = int(np.argmax(wrong))
    x, y = air.ends[row, :2].tolist()
    text = f"{path}, line {air.lines[row]}: this is not the part program raised by {raised_mm:g} mm."
    return (breach("air-differs", text, None if np.isnan([x, y]).any() else (x, y)),)


def _strays(air: np.ndarray, part: np.ndarray, raised_mm: float) -> np.ndarray:
    return np.asarray(~_alike(air, part + np.array([0.0, 0.0, raised_mm])).all(axis=1))


def _alike(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    return np.asarray(np.isclose(one, other, rtol=0.0, atol=SAME_WITHIN, equal_nan=True))
