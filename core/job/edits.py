"""Kinds of choice for touch-ups, each said in one short line: a word, places on the picture, sizes."""

import re
from dataclasses import dataclass
from typing import ClassVar

from core.errors import BadValue
from core.findings import Point
from core.job.kinds import Kind
from core.job.placed import PicturePoint
from core.touch.edit import Corner, Touch, Way
from core.units import LENGTH, in_digits, parsed

#: px; wider edits are no touch-ups.
LARGEST_TOUCH = 2000.0
#: mm; no corner of a part is rounder.
LARGEST_RADIUS = 1000.0

_SIZE = re.compile(r"([0-9]{1,6}(?:[.,][0-9]{1,400})?)\s*(?:px)?")
#: How many points each way takes, and whether a size follows.
_TAKES = {Way.RUB: (1, True), Way.FILL: (1, False), Way.BRIDGE: (2, True), Way.PART: (2, True)}


def _size(text: str, what: str) -> float:
    """Px from `6`, `6.5` or `6 px`. Raises BadValue."""
    found = _SIZE.fullmatch(text.strip())
    size = float(found[1].replace(",", ".")) if found else 0.0
    if not 0.0 < size <= LARGEST_TOUCH:
        raise BadValue(f"'{text.strip()}' is no {what}; it takes pixels above 0, up to {LARGEST_TOUCH:g}")
    return size


def _points(words: list[str], count: int) -> list[Point]:
    return [PicturePoint().read(word) for word in words[:count]]


@dataclass(frozen=True)
class TouchUp(Kind[Touch]):
    """A touch-up of the pixels."""

    name: ClassVar[str] = "touch-up"

    def read(self, text: str) -> Touch:
        """A word, then points like 412,388 with no space in them, then a size in pixels."""
        words = text.split()
        if not words or words[0].casefold() not in list(Way):
            raise BadValue(f"'{text.strip()}' is no touch-up; it takes {self.limits()}")
        way = Way(words[0].casefold())
        count, has_size = _TAKES[way]
        if len(words) < 1 + count + has_size or (len(words) > 1 + count and not has_size):
            raise BadValue(f"'{text.strip()}' is not said in full; it takes {self.limits()}")
        points = _points(words[1:], count)
        size = _size(" ".join(words[1 + count :]), "size") if has_size else 0.0
        if count == 2 and points[0] == points[1]:
            raise BadValue(f"'{text.strip()}' begins where it ends; it takes {self.limits()}")
        return Touch(way, points[0], points[1] if count == 2 else None, size)

    def written(self, value: Touch) -> str:
        """Word, points, size."""
        points = [PicturePoint().written(point) for point in (value.at, value.to) if point is not None]
        return " ".join([value.way, *points, *([in_digits(value.size)] if value.size else [])])

    def limits(self) -> str:
        """The forms."""
        return (
            "rub POINT RADIUS, fill POINT, bridge POINT POINT WIDTH or part POINT POINT WIDTH, "
            "in pixels from the top left, like rub 412,388 6"
        )


@dataclass(frozen=True)
class CornerMade(Kind[Corner]):
    """A corner made sharp or round."""

    name: ClassVar[str] = "corner"

    def read(self, text: str) -> Corner:
        """`sharp 412,388`, `round 412,388 3 mm` or `round 412,388 9 px`."""
        words = text.split()
        word = words[0].casefold() if words else ""
        if word == "sharp" and len(words) == 2:
            return Corner(PicturePoint().read(words[1]))
        if word == "round" and len(words) >= 3:
            size = " ".join(words[2:])
            at = PicturePoint().read(words[1])
            if size.endswith("px"):
                return Corner(at, _size(size, "radius"))
            radius = parsed(size, LENGTH).value
            if not 0.0 < radius <= LARGEST_RADIUS:
                raise BadValue(f"'{size}' is no radius; it takes lengths above 0, up to 1 m")
            return Corner(at, radius, is_mm=True)
        raise BadValue(f"'{text.strip()}' is no corner; it takes {self.limits()}")

    def written(self, value: Corner) -> str:
        """Word, point, radius."""
        at = PicturePoint().written(value.at)
        if not value.radius:
            return f"sharp {at}"
        return f"round {at} {in_digits(value.radius)} {'mm' if value.is_mm else 'px'}"

    def limits(self) -> str:
        """The forms."""
        return "sharp POINT, or round POINT RADIUS in mm or px, like round 412,388 3 mm"
