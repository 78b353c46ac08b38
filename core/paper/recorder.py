"""A surface that remembers: a page as a value, which can be looked at, measured and played again."""

from dataclasses import dataclass, field

from core.findings import Point
from core.paper.surface import Fill, Letters, Pen, Surface


@dataclass(frozen=True)
class Move:
    """A contour begins."""

    x: float
    y: float


@dataclass(frozen=True)
class Draw:
    """A line (bulge 0) or an arc to (x, y)."""

    x: float
    y: float
    bulge: float


@dataclass(frozen=True)
class Close:
    """The contour is closed."""


Step = Move | Draw | Close


@dataclass(frozen=True)
class Painted:
    """A path and how it was painted."""

    steps: tuple[Step, ...]
    fill: Fill | None
    pen: Pen | None

    def play(self, surface: Surface) -> None:
        """The same calls again."""
        for step in self.steps:
            match step:
                case Move(x, y):
                    surface.move(x, y)
                case Draw(x, y, 0.0):
                    surface.line(x, y)
                case Draw(x, y, bulge):
                    surface.arc(x, y, bulge)
                case Close():
                    surface.close()
        surface.paint(self.fill, self.pen)


@dataclass(frozen=True)
class Written:
    """One line of words."""

    words: str
    at: Point
    letters: Letters

    def play(self, surface: Surface) -> None:
        """The same call again."""
        surface.text(self.words, self.at, self.letters)


@dataclass(frozen=True)
class Recording:
    """What was drawn, in order."""

    items: tuple[Painted | Written, ...] = ()

    def play(self, surface: Surface) -> None:
        """The same calls again, on another surface."""
        for item in self.items:
            item.play(surface)

    def writings(self) -> tuple[Written, ...]:
        """The words alone."""
        return tuple(item for item in self.items if isinstance(item, Written))


@dataclass
class Recorder:
    """A Surface that keeps every call."""

    items: list[Painted | Written] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)

    def move(self, x: float, y: float) -> None:
        """See Surface."""
        self.steps.append(Move(x, y))

    def line(self, x: float, y: float) -> None:
        """See Surface."""
        self.steps.append(Draw(x, y, 0.0))

    def arc(self, x: float, y: float, bulge: float) -> None:
        """See Surface."""
        self.steps.append(Draw(x, y, bulge))

    def close(self) -> None:
        """See Surface."""
        self.steps.append(Close())

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """See Surface."""
        self.items.append(Painted(tuple(self.steps), fill, pen))
        self.steps.clear()

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """See Surface."""
        self.items.append(Written(words, at, letters))

    def recording(self) -> Recording:
        """Everything so far."""
        return Recording(tuple(self.items))
