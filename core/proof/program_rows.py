"""Some moves of a program that was read: picked by row, and told whether they lie within a mark."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.claims import MarkClaim

#: mm by which a move may leave its mark's circle.
SLACK = 0.05


def picked(program: Program, rows: NDArray[np.int64]) -> Program:
    """Some moves of a program, for what they cut; what happens between moves is left as it was."""
    return replace(
        program,
        starts=program.starts[rows],
        ends=program.ends[rows],
        centres=program.centres[rows],
        turns=program.turns[rows],
        is_rapid=program.is_rapid[rows],
        feeds=program.feeds[rows],
        rpm=program.rpm[rows],
        lines=program.lines[rows],
    )


def in_mark(places: NDArray[np.float64], mark: MarkClaim) -> NDArray[np.bool_]:
    """(n,) whether places (n, 2), mm in the frame, lie within a mark."""
    return np.asarray(np.hypot(*(places - np.array(mark.at)).T) <= mark.diameter_mm / 2.0 + SLACK)


def in_marks(places: NDArray[np.float64], marks: Sequence[MarkClaim]) -> NDArray[np.bool_]:
    """(n,) whether places (n, 2) lie within any of them."""
    within = np.zeros(len(places), dtype=bool)
    for mark in marks:
        within |= in_mark(places, mark)
    return within
