"""The limits of a size in words."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.limits import Limit, Limits


def limit_lines(limits: "Limits") -> Iterator[str]:
    """Smallest, largest, and how large the picture is good for."""
    if limits.smallest is None or limits.largest is None:
        yield "At no height tried does everything hold: answer the stops first."
        return
    yield f"Smallest height that can be cut: {limits.smallest.height_mm:.1f} mm{_broken(limits.smallest)}"
    yield f"Largest height that can be cut: {limits.largest.height_mm:.0f} mm{_broken(limits.largest)}"
    yield (
        f"The picture is good for {limits.largest_sharp_mm:.0f} mm: at the height asked for a pixel is "
        f"{limits.px_mm:.3f} mm and its edges are known to {limits.doubt_mm:.3f} mm."
    )


def _broken(limit: "Limit") -> str:
    return "." if limit.breaks is None else f"; beyond: {limit.breaks.text}"
