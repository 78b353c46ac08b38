"""Moves as lines of words; a word that stays as it was is not said again."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.errors import BadShape
from core.program.write.dialect import Dialect
from core.program.write.number import decimal_text, rounded_text
from core.program.write.steps import Steps
from core.router.toolpath import Motion

#: Decimals of a feed: 0.1 mm/min and 0.001 in/min, both far below what a machine can hold.
FEED_PLACES = {"mm": 1, "inch": 3}
RAPID, LINE, CLOCKWISE, COUNTER_CLOCKWISE = "G0", "G1", "G2", "G3"

Words = list[str]
Place = tuple[int, int, int]


@dataclass
class Said:
    """What the program has said so far: the motion, the place in steps (None: not yet), the feed."""

    motion: str
    x: int | None
    y: int | None
    z: int | None
    feed: str


class Blocks:
    """The moves of a program as lines, one after the other, from what was said before."""

    def __init__(self, dialect: Dialect, said: Said) -> None:
        self.dialect = dialect
        self.said = said
        self.places = dialect.places()

    def lines(self, steps: Steps, row: int) -> Iterator[Words]:
        """The line or lines of one move."""
        end: Place = (int(steps.ends[row, 0]), int(steps.ends[row, 1]), int(steps.ends[row, 2]))
        if steps.motions[row] == Motion.RAPID:
            yield from self.rapid(end)
            return
        if self.said.x is None:
            yield from self.rapid((int(steps.starts[row, 0]), int(steps.starts[row, 1]), self.said.z or 0))
        feed = self._feed(float(steps.feeds[row]))
        if steps.turns[row] == 0:
            yield self._motion(LINE) + self._axes(end) + feed
        else:
            i, j = int(steps.offsets[row, 0]), int(steps.offsets[row, 1])
            code = COUNTER_CLOCKWISE if steps.turns[row] > 0 else CLOCKWISE
            yield self._motion(code) + self._arc_axes(end) + self._offsets(i, j) + feed

    def rapid(self, end: Place) -> Iterator[Words]:
        """Up before sideways and sideways before down, since rapids need not be straight."""
        x, y, z = end
        said_z = self.said.z
        if said_z is None or z > said_z:
            yield from self._rapid_words(z=z)
        yield from self._rapid_words(x=x, y=y)
        if said_z is not None and z < said_z:
            yield from self._rapid_words(z=z)

    def lift(self, z: int) -> Iterator[Words]:
        """Straight up, or nothing where the bit is there."""
        yield from self._rapid_words(z=z)

    def _rapid_words(
        self, x: int | None = None, y: int | None = None, z: int | None = None
    ) -> Iterator[Words]:
        axes = self._axes((x, y, z))
        if axes:
            yield self._motion(RAPID) + axes

    def _motion(self, code: str) -> Words:
        if code == self.said.motion:
            return []
        self.said.motion = code
        return [code]

    def _axes(self, to: tuple[int | None, int | None, int | None]) -> Words:
        x, y, z = to
        words = []
        if x is not None and x != self.said.x:
            words.append("X" + decimal_text(x, self.places))
            self.said.x = x
        if y is not None and y != self.said.y:
            words.append("Y" + decimal_text(y, self.places))
            self.said.y = y
        if z is not None and z != self.said.z:
            words.append("Z" + decimal_text(z, self.places))
            self.said.z = z
        return words

    def _arc_axes(self, end: Place) -> Words:
        """X and Y both, said or not: an arc without them is another arc or none (NISTIR 6556 3.5.3.2)."""
        self.said.x = self.said.y = None
        return self._axes(end)

    def _offsets(self, i: int, j: int) -> Words:
        return ["I" + decimal_text(i, self.places), "J" + decimal_text(j, self.places)]

    def _feed(self, feed_mm_min: float) -> Words:
        text = rounded_text(feed_mm_min / self.dialect.mm_per_unit(), FEED_PLACES[self.dialect.unit])
        if text == "0":
            raise BadShape(f"a feed of {feed_mm_min} mm/min is too slow to be written")
        if text == self.said.feed:
            return []
        self.said.feed = text
        return ["F" + text]
