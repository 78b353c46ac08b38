"""In which order films lie on each other, and how far the lower one reaches under the upper one."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.decal.film import FilmSource
from core.findings import Finding, Level

#: mm; behind clear stock every step under a film shows as a silver line, so it is kept short.
WIDEST_BEHIND_MM = 0.5


@dataclass(frozen=True)
class Laying:
    """overlap_mm (>= 0) where two films meet; order: names from the lowest up, films not named lie below."""

    overlap_mm: float = 0.0
    order: tuple[str, ...] = ()


def in_laying_order(sources: Sequence[FilmSource], laying: Laying) -> tuple[FilmSource, ...]:
    """The lowest film first, as seen from the front: those not named from light to dark, then as named."""
    rank = {name: place for place, name in enumerate(laying.order)}

    def place(source: FilmSource) -> tuple[int, float]:
        return rank.get(source.name, -1), -luminance(source.colour)

    return tuple(sorted(sources, key=place))


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1, of "#rrggbb" (IEC 61966-2-1 sRGB; weights of ITU-R BT.709)."""
    values = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0
    linear = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    return float(linear @ np.array([0.2126, 0.7152, 0.0722]))


def order_findings(sources: Sequence[FilmSource], laying: Laying) -> tuple[Finding, ...]:
    """A caution for each name in the order that no film has."""
    known = {source.name for source in sources}
    strange = [name for name in laying.order if name not in known]
    have = ", ".join(source.name for source in sources) or "none"
    return tuple(
        Finding(
            Level.CAUTION,
            "film-order-unknown",
            f"The order of films names {name}, and no film is called so.",
            f"Name films of this picture: {have}.",
        )
        for name in strange
    )
