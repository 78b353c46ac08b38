"""Levels of the cut in the hand: how high tabs stand, how thick a skin is left, how deep the skim goes."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from core.job.job import CHOICES
from core.units import LENGTH, Measure, parsed

if TYPE_CHECKING:
    from core.shown import Shown

#: mm that a dragged level is rounded to.
LEVEL_MM = 0.05


@dataclass(frozen=True)
class Level:
    """A choice that is a height above the stock's true bottom, or below it where is_below; mm.

    foot_z: the z of the bottom; least and most: what the choice takes.
    """

    key: str
    named: str
    value_mm: float
    foot_z: float
    least_mm: float
    most_mm: float
    is_below: bool = False

    @property
    def z(self) -> float:
        """The z of the level, mm below the stock's top where negative."""
        return self.foot_z + (-self.value_mm if self.is_below else self.value_mm)

    def at(self, z: float, step_mm: float = LEVEL_MM) -> "Level":
        """The same, as near to a z as it may be."""
        wanted = (self.foot_z - z) if self.is_below else (z - self.foot_z)
        value = round(round(wanted / step_mm) * step_mm, 6)
        return replace(self, value_mm=min(max(value, self.least_mm), self.most_mm))

    def said(self) -> str:
        """Its number."""
        return f"{self.named} {self.value_mm:.2f} mm"

    def wanted(self) -> Measure:
        """What the choice becomes."""
        return parsed(f"{self.value_mm:g} mm", LENGTH)


def levels_of(shown: "Shown") -> tuple[Level, ...]:
    """The levels that a hand may move: of tabs or of the skin, and of the skim."""
    setup = shown.setup
    foot, thick = -setup.layout.stock.thickness_mm, setup.layout.stock.thickness_mm
    if setup.has_skin:
        return (_level("part.skin", "skin", setup.tab_rule.skin_mm, foot, thick),)
    tabs = _level("part.tab_height", "tabs stand", setup.tab_rule.height_mm, foot, thick)
    skim = _level("cutting.skim", "skim goes below by", setup.cutting.skim_mm, foot, thick)
    return (tabs, replace(skim, is_below=True)) if shown.path.tabs else (replace(skim, is_below=True),)


def _level(key: str, named: str, value_mm: float, foot_z: float, thick_mm: float) -> Level:
    kind: Any = CHOICES[key].kind
    least, most = (parsed(limit, LENGTH).value for limit in (kind.least, kind.most))
    return Level(key, named, value_mm, foot_z, least, min(most, thick_mm))


class LevelHand:
    """The levels of one Shown; chosen is the one that keys act on, and that is dragged."""

    def __init__(self, shown: "Shown") -> None:
        self.levels = levels_of(shown)
        self._before = self.levels
        self.chosen: int | None = None
        self.is_dragged = False

    @property
    def in_hand(self) -> Level | None:
        """The chosen level."""
        return self.levels[self.chosen] if self.chosen is not None else None

    def go_on_from(self, before: "LevelHand") -> None:
        """What was chosen stays so."""
        if before.chosen is not None and before.chosen < len(self.levels):
            self.chosen, self.is_dragged = before.chosen, before.is_dragged

    def near(self, z: float, reach_mm: float) -> int | None:
        """The level within reach of a z; the nearest."""
        gaps = [(abs(level.z - z), at) for at, level in enumerate(self.levels)]
        return min((gap for gap in gaps if gap[0] <= reach_mm), default=(0.0, None))[1]

    def take(self, index: int | None) -> bool:
        """Take this one; False where it is none."""
        self.chosen, self._before = index, self.levels
        self.is_dragged = index is not None
        return self.is_dragged

    def drag(self, z: float) -> None:
        """What was taken follows."""
        if self.is_dragged and (level := self.in_hand) is not None:
            self._put(level.at(z))

    def begin_walk(self) -> None:
        """What is given up later goes back to here."""
        self._before = self.levels

    def step(self, up_mm: float) -> None:
        """The chosen one is moved up, to whole steps of a tenth."""
        if (level := self.in_hand) is not None:
            self._put(level.at(level.z + up_mm, 0.1))

    def drop(self) -> Level | None:
        """Let go; None where nothing was moved."""
        self.is_dragged = False
        moved = self.in_hand if self.levels != self._before else None
        self._before = self.levels  # told once: an undo must not be done again
        return moved

    def give_up(self) -> None:
        """Everything as it was."""
        self.levels, self.is_dragged, self.chosen = self._before, False, None

    def choose_next(self) -> None:
        """The next level, none after the last."""
        following = 0 if self.chosen is None else self.chosen + 1
        self.chosen = following if following < len(self.levels) else None

    def _put(self, level: Level) -> None:
        assert self.chosen is not None  # noqa: S101 - only what is chosen moves
        self.levels = (*self.levels[: self.chosen], level, *self.levels[self.chosen + 1 :])
