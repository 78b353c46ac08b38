"""A program that was turned and shifted to where the sheet was found, turned back to the frame."""

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.claims import FoundClaim


def turned_back(program: Program, found: FoundClaim | None) -> Program:
    """The program as it would be for a sheet that lies as drawn; itself when nothing was found."""
    if found is None:
        return program
    turn, shift = radians(found.turn_deg), np.array(found.shift_mm)
    c, s = cos(turn), sin(turn)

    def back(points: NDArray[np.float64]) -> NDArray[np.float64]:
        x, y = (points[:, :2] - shift).T
        return np.column_stack((c * x + s * y, c * y - s * x, points[:, 2:]))

    return replace(
        program, starts=back(program.starts), ends=back(program.ends), centres=back(program.centres)
    )
