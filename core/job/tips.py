"""The kind of choice for a tip of the part where film may come nearer to the edge."""

from dataclasses import dataclass
from typing import ClassVar

from core.errors import BadValue
from core.findings import Point
from core.job.kinds import Kind
from core.job.placed import PicturePoint
from core.units import LENGTH, in_digits, parsed

#: mm; no inset is larger.
LARGEST_INSET = 20.0


@dataclass(frozen=True)
class PictureTip:
    """A point on the upright source picture, px, and the inset round it, mm."""

    at: Point
    inset_mm: float


@dataclass(frozen=True)
class TipInset(Kind[PictureTip]):
    """A tip with its own inset."""

    name: ClassVar[str] = "tip"

    def read(self, text: str) -> PictureTip:
        """`412,388 0.3 mm`."""
        words = text.split(maxsplit=1)
        if len(words) != 2:
            raise BadValue(f"'{text.strip()}' is no tip; it takes {self.limits()}")
        inset = parsed(words[1], LENGTH).value
        if not 0.0 <= inset <= LARGEST_INSET:
            raise BadValue(f"'{words[1]}' is no inset; it takes lengths from 0 to 20 mm")
        return PictureTip(PicturePoint().read(words[0]), inset)

    def written(self, value: PictureTip) -> str:
        """Point and inset."""
        return f"{PicturePoint().written(value.at)} {in_digits(value.inset_mm)} mm"

    def limits(self) -> str:
        """The form."""
        return "a point in pixels from the picture's top left and an inset, like 412,388 0.3 mm"
