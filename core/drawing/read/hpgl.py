"""HP-GL bytes back to the runs of the lowered pen, in whole plotter units.

Read are the commands that move a pen: IN, DF, SP, PA, PR, PU, PD. Others might scale, turn or bend what
follows, so a file that has one is refused. Nothing here is shared with any writer.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.errors import UnreadableFile

Floats = NDArray[np.float64]

#: One command: two letters, then anything that is no letter, up to a semicolon or the next letter.
_COMMAND = re.compile(r"([A-Za-z]{2})([^A-Za-z;]*)(;?)")
_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)")
#: Whole numbers parted by commas, as most programs write them: read at once.
_PLAIN = re.compile(r"-?[0-9]{1,9}(?:,-?[0-9]{1,9})*")
_BETWEEN = re.compile(r"[\s,]*")
#: Digits of a coordinate; more are no place on any film.
_LONGEST = 12


@dataclass(frozen=True, eq=False)
class PenRun:
    """Where the pen went while it was down: points (n, 2) in units of 0.025 mm, n >= 2."""

    pen: int
    points: Floats


@dataclass(frozen=True)
class ReadPlot:
    """The runs in the file's order; least and most of all coordinates told, those with the pen up too.

    ends_up tells whether the pen is up, or stored, at the end.
    """

    runs: tuple[PenRun, ...]
    least: float
    most: float
    ends_up: bool


class _Plotter:
    """What a plotter knows between two commands."""

    def __init__(self) -> None:
        self.at, self.pen, self.is_down, self.is_relative = (0.0, 0.0), 0, False, False
        self.run: list[tuple[float, float]] = []
        self.runs: list[PenRun] = []
        self.told: list[float] = [0.0]

    def obey(self, name: str, numbers: list[float]) -> None:
        match name:
            case "IN" | "DF":
                self._end_run()
                self.is_relative = False
                self.is_down = self.is_down and name == "DF"  # DF leaves the pen as it is
            case "SP":
                self._end_run()
                self.pen = _whole(numbers[0]) if numbers else 0
                self.is_down = self.is_down and self.pen != 0
            case "PA" | "PR":
                self.is_relative = name == "PR"
                self._go(numbers)
            case "PU":
                self._end_run()
                self.is_down = False
                self._go(numbers)
            case "PD":
                self.is_down = True
                self._go(numbers)
            case _:
                raise UnreadableFile(f"The plot has the command {name}, which is not read.")

    def _go(self, numbers: list[float]) -> None:
        if len(numbers) % 2:
            raise UnreadableFile("The plot has lost half of a point.")
        for x, y in zip(numbers[::2], numbers[1::2], strict=True):
            start = self.at
            self.at = (start[0] + x, start[1] + y) if self.is_relative else (x, y)
            self.told += self.at
            if self.is_down:
                self.run = self.run or [start]
                self.run.append(self.at)

    def _end_run(self) -> None:
        if self.run:
            self.runs.append(PenRun(self.pen, np.array(self.run)))
        self.run = []

    def done(self) -> ReadPlot:
        """What was drawn; a run that is still going on counts."""
        self._end_run()
        return ReadPlot(tuple(self.runs), min(self.told), max(self.told), not self.is_down)


def read_hpgl(data: bytes) -> ReadPlot:
    """The pen's runs. Raises UnreadableFile for what is no HP-GL, or has a command that is not read."""
    plotter = _Plotter()
    for name, numbers in _commands(data):
        plotter.obey(name, numbers)
    return plotter.done()


def _commands(data: bytes) -> Iterator[tuple[str, list[float]]]:
    if not data.isascii():
        raise UnreadableFile("This is no HP-GL plot: it holds more than plain letters and digits.")
    text = data.decode("ascii")
    place, last = _skipped(text, 0), ""
    if place == len(text):
        raise UnreadableFile("The plot is empty.")
    while place < len(text):
        found = _COMMAND.match(text, place)
        if found is None:
            raise UnreadableFile(f"This is no HP-GL plot: '{text[place : place + 12]}' is no command.")
        yield found[1].upper(), _numbers(found[2])
        place, last = _skipped(text, found.end()), found[3]
    if last != ";":
        raise UnreadableFile("The plot breaks off: its last command has no end.")


def _whole(number: float) -> int:
    if number != int(number):
        raise UnreadableFile(f"The plot has a pen {number:g}, and there is none.")
    return int(number)


def _skipped(text: str, place: int) -> int:
    while place < len(text) and (text[place].isspace() or text[place] == ";"):
        place += 1
    return place


def _numbers(text: str) -> list[float]:
    """Numbers parted by commas, white space or the sign of the next one."""
    if _PLAIN.fullmatch(text):
        return [float(number) for number in text.split(",")]
    numbers: list[float] = []
    place = _end_of(_BETWEEN, text, 0)
    while place < len(text):
        found = _NUMBER.match(text, place)
        if found is None or len(found[0]) > _LONGEST:
            raise UnreadableFile(f"The plot has '{text[place : place + 12]}' where a number should be.")
        numbers.append(float(found[0]))
        place = _end_of(_BETWEEN, text, found.end())
    return numbers


def _end_of(pattern: re.Pattern[str], text: str, place: int) -> int:
    found = pattern.match(text, place)
    return place if found is None else found.end()
