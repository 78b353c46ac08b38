"""What a kit tells beyond its Build: changes since an earlier kit, how small and how large it may be."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.build import Build
from core.cancel import CancelToken
from core.kit.also import Also
from core.kit.since import Earlier, since
from core.limits import MOST_MM, Limit, Limits, limits_of, sharp_mm


@dataclass(frozen=True)
class Known:
    """What became of it: changes since the earlier kit, and the limits; None where not asked for."""

    since: Earlier | None = None
    limits: Limits | None = None
    sharp_mm: float = MOST_MM


def known_of(made: Build, also: Also, report: Mapping[str, Any], token: CancelToken) -> Known:
    """All that was asked for; limits take some twenty Builds. Raises Cancelled."""
    limits = limits_of(made, token, lambda _height: None) if also.with_limits else None
    return Known(since(also.earlier, report), limits, sharp_mm(made))


def reported_limits(known: Known) -> dict[str, Any]:
    """The report's entry; smallest and largest are null where they were not sought or none is good."""
    limits = known.limits
    return {
        "sharp_mm": known.sharp_mm,
        "smallest": _reported(limits.smallest) if limits else None,
        "largest": _reported(limits.largest) if limits else None,
    }


def _reported(limit: Limit | None) -> dict[str, Any] | None:
    if limit is None:
        return None
    return {"height_mm": limit.height_mm, "breaks": limit.breaks.text if limit.breaks else None}


def said_limits(known: Known) -> str:
    """Both limits in a line for the job sheet; "" where nothing is known."""
    said = []
    if known.sharp_mm < MOST_MM:
        said.append(f"The picture is sharp enough for {known.sharp_mm:.0f} mm.")
    limits = known.limits
    if limits and limits.smallest and limits.largest:
        said.append(f"Good from {limits.smallest.height_mm:.1f} to {limits.largest.height_mm:.0f} mm tall.")
        said += [
            f"{way}: {limit.breaks.text}"
            for way, limit in (("Smaller", limits.smallest), ("Larger", limits.largest))
            if limit.breaks
        ]
    elif limits:
        said.append("At no height tried does everything hold.")
    return " ".join(said)
