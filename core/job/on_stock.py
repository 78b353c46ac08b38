"""Kinds of choice for what lies on the stock: clamps, each a place, a size and a height."""

import re
from dataclasses import dataclass
from typing import ClassVar

from core.errors import BadValue
from core.findings import Point
from core.job.kinds import Kind
from core.job.placed import LARGEST_STOCK, halves_of
from core.sheet.clamp import Clamp
from core.units import LENGTH, in_digits, parsed, plain_signs

_CLAMP = re.compile(r"(?P<at>.+?)\s+(?P<form>box|round)\s+(?P<size>.+?)\s+high\s+(?P<high>.+)", re.IGNORECASE)


@dataclass(frozen=True)
class ClampPlace(Kind[Clamp]):
    """A clamp on the stock."""

    name: ClassVar[str] = "clamp on the stock"

    @property
    def unit(self) -> str:
        """Millimetres."""
        return "mm"

    def read(self, text: str) -> Clamp:
        """Its middle, `box` and two sizes or `round` and one, `high` and its height. Raises BadValue."""
        found = _CLAMP.fullmatch(plain_signs(text))
        if not found:
            raise self._no_clamp(text)
        is_round = found["form"].casefold() == "round"
        sizes = (found["size"],) * 2 if is_round else halves_of(found["size"])
        if sizes is None:
            raise self._no_clamp(text)
        width, depth = (parsed(size, LENGTH).value for size in sizes)
        height = parsed(found["high"], LENGTH).value
        if not min(width, depth) > 0.0 or height < 0.0 or max(width, depth, height) > LARGEST_STOCK:
            raise self._no_clamp(text)
        return Clamp(self._point(found["at"], text), (width, depth), height, is_round)

    def _point(self, at: str, text: str) -> Point:
        halves = halves_of(at)
        if halves is None:
            raise self._no_clamp(text)
        x, y = (parsed(half, LENGTH).value for half in halves)
        if max(abs(x), abs(y)) > LARGEST_STOCK:
            raise self._no_clamp(text)
        return x + 0.0, y + 0.0  # -0.0 becomes 0.0, which prints alike everywhere

    def _no_clamp(self, text: str) -> BadValue:
        return BadValue(f"'{text.strip()}' is no clamp; it takes {self.limits()}")

    def written(self, value: Clamp) -> str:
        """The form it is read in."""
        width, depth = map(in_digits, value.size_mm)
        form = f"round {width}" if value.is_round else f"box {width}x{depth}"
        x, y = map(in_digits, value.at)
        return f"{x},{y} {form} high {in_digits(value.height_mm)}"

    def limits(self) -> str:
        """The form."""
        return (
            "a middle in mm from the stock's left near corner, a size and a height above the stock, "
            "like 10,80 box 20x40 high 12, or 10,80 round 25 high 12"
        )


@dataclass(frozen=True)
class Reading(Kind[Point]):
    """What the controller shows while the bit stands over a mark."""

    name: ClassVar[str] = "reading over a mark"

    @property
    def unit(self) -> str:
        """Millimetres."""
        return "mm"

    def read(self, text: str) -> Point:
        """X and Y from the work zero. Raises BadValue."""
        halves = halves_of(text)
        if halves is None:
            raise BadValue(f"'{text.strip()}' is no reading; it takes {self.limits()}")
        x, y = (parsed(half, LENGTH).value for half in halves)
        if max(abs(x), abs(y)) > LARGEST_STOCK:
            raise BadValue(f"'{text.strip()}' lies beyond any machine; it takes {self.limits()}")
        return x + 0.0, y + 0.0  # -0.0 becomes 0.0, which prints alike everywhere

    def written(self, value: Point) -> str:
        """Both numbers with a comma between them."""
        return f"{in_digits(value[0])},{in_digits(value[1])}"

    def limits(self) -> str:
        """The form."""
        return "X and Y in mm as the controller shows them, like 12.35,140.02"
