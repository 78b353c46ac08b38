"""How small and how large the shape may be made, each with the first thing that breaks beyond.

The plot: a height is good when its Build has no stop, and nothing of the shape is lost that the height asked
for still has. From the height asked for the search doubles or halves
until the other side is found, then halves what lies between; it takes for granted that what breaks at one
size stays broken beyond it. How large the picture is good for follows from how well its edges are known.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from core.build import Build, build
from core.cancel import CancelToken
from core.findings import Finding, Level
from core.job.job import Job, Source
from core.units import LENGTH, measured

#: mm; heights that a Job takes (its declaration has the same).
LEAST_MM, MOST_MM = 5.0, 2000.0
#: Share to which a limit is found: a percent of a size nobody sees.
CLOSE = 0.01
#: mm an edge may be in doubt before one sees it beside a straight edge (common practice, no source).
DOUBT_MM = 0.1
#: Cautions that mean that something of the shape is no longer made, or no longer holds.
LOST = frozenset(
    {
        "bit-too-wide",
        "bridge-weak",
        "few-tabs",
        "film-vanished",
        "small-pieces",
        "tab-without-footing",
        "thin-stroke",
        "tiny-piece",
    }
)


@dataclass(frozen=True)
class Limit:
    """The last height that is good, mm, and what breaks just beyond it; None where nothing did."""

    height_mm: float
    breaks: Finding | None


@dataclass(frozen=True)
class Limits:
    """smallest and largest None where no height at all is good; px_mm and doubt_mm at the height asked for.

    largest_sharp_mm: the height beyond which the picture's own edges are in doubt by more than DOUBT_MM.
    """

    smallest: Limit | None
    largest: Limit | None
    px_mm: float
    doubt_mm: float
    largest_sharp_mm: float


@dataclass
class _Tried:
    """Builds of the Job at other heights, each from the last."""

    job: Job
    source: Source
    token: CancelToken
    tell: Callable[[str], None]
    last: Build
    known: frozenset[str]

    def broken_at(self, height_mm: float) -> Finding | None:
        """What breaks first at this height, or None when it is good. Raises Cancelled."""
        self.token.check()
        self.tell(f"{height_mm:.0f} mm")
        job = self.job.with_value("shape.height", measured(round(height_mm, 3), LENGTH))
        self.last = build(job, self.source, self.last, self.token)
        return next((found for found in self.last.findings if _breaks(found, self.known)), None)


def _breaks(found: Finding, known: frozenset[str]) -> bool:
    is_lost = found.code in LOST and found.level is Level.CAUTION
    return found.level is Level.STOP or (is_lost and found.code not in known)


def limits_of(made: Build, token: CancelToken, tell: Callable[[str], None]) -> Limits:
    """The limits of a Build's Job. Raises Cancelled."""
    known = frozenset(found.code for found in made.findings if found.level is not Level.STOP)
    tried = _Tried(made.job, made.source, token, tell, made, known)
    good = _some_good_height(tried, made)
    return Limits(
        smallest=None if good is None else _limit(tried, good, LEAST_MM),
        largest=None if good is None else _limit(tried, good, MOST_MM),
        px_mm=made.shape.scale,
        doubt_mm=max(made.shape.outline.doubt, default=0.0),
        largest_sharp_mm=sharp_mm(made),
    )


def sharp_mm(made: Build) -> float:
    """The height beyond which the picture's own edges are in doubt by more than DOUBT_MM, mm."""
    doubt = max(made.shape.outline.doubt, default=0.0)
    return min(made.height_mm * DOUBT_MM / doubt, MOST_MM) if doubt > 0.0 else MOST_MM


def _some_good_height(tried: _Tried, made: Build) -> float | None:
    """The height asked for if it is good; else the nearest tried that is, larger ones first."""
    asked = made.height_mm
    if not any(found.level is Level.STOP for found in made.findings):
        return asked
    for factor in (2.0, 0.5):
        height = asked * factor
        while LEAST_MM <= height <= MOST_MM:
            if tried.broken_at(height) is None:
                return height
            height *= factor
    return None


def _limit(tried: _Tried, good: float, end: float) -> Limit:
    """The last good height from a good one towards the end, within CLOSE."""
    factor = 2.0 if end > good else 0.5
    broken: Finding | None = None
    bad = good
    while broken is None and bad != end:
        good = bad
        bad = min(good * factor, end) if factor > 1.0 else max(good * factor, end)
        broken = tried.broken_at(bad)
    if broken is None:
        return Limit(end, None)
    while abs(bad - good) > CLOSE * min(good, bad):
        middle = sqrt(good * bad)
        found = tried.broken_at(middle)
        if found is None:
            good = middle
        else:
            bad, broken = middle, found
    return Limit(good, broken)
