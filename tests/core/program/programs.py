"""Programs for tests: a careful start and end round a few lines."""

from core.program.read.leniency import STRICT
from core.program.read.read import read_program

START = ("G21", "G90", "G94", "G17", "G40", "G54", "G0 Z5", "S10000 M3", "G4 P5")
END = ("G0 Z5", "M5", "M2")


def text_of(*lines: str) -> bytes:
    """A whole program round these lines, which begin on line len(START) + 1."""
    return "\n".join((*START, *lines, *END, "")).encode()


def read(*lines, leniency=STRICT):
    """What a whole program round these lines says."""
    return read_program(text_of(*lines), leniency=leniency)
