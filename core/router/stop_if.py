"""What to change when a cut goes wrong: one number at a time, to a value that the usual limits still allow.

Which number answers which trouble, and the steps of a fifth, are common practice, no source; the limits are
those of core/router/judged.py. A step that leaves a limit is made smaller; where none is left, the next
number in line is taken.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from core.router.bit import Bit
from core.router.cutting import Cutting
from core.router.feeds import chip_load_mm
from core.router.forces import forces_of
from core.router.judged import judged
from core.router.machine import Machine

#: Shares by which a number is changed: a fifth if it can be, down to a twentieth; less is not noticed.
SHARES = (0.2, 0.15, 0.1, 0.05)
#: A squeal is a tone: a tenth is enough to leave it.
OFF_TONE = (0.1, 0.05)
#: A pass is made shallower, and a plunge slower, by three tenths: both cost time alone.
GENTLER = (0.3, 0.2, 0.1)
#: Steps that people set on a machine: rpm, mm/min, mm.
RPM_STEP, FEED_STEP, DEPTH_STEP = 100.0, 5.0, 0.05
#: The least that a Job takes: rpm, mm/min, mm.
LEAST_RPM, LEAST_FEED, LEAST_DEPTH = 500.0, 5.0, 0.05


class Trouble(StrEnum):
    """What is seen or heard."""

    MELTS = "melts"
    SQUEALS = "squeals"
    CHIPS = "chips"
    CHATTERS = "chatters"
    BENDS = "bends"
    LIFTS = "lifts"


class Number(StrEnum):
    """A number that is set: the Job's choice of it is "cutting." and this."""

    SPEED = "speed"
    FEED = "feed"
    DEPTH = "depth"
    PLUNGE = "plunge"


UNITS = {Number.SPEED: "rpm", Number.FEED: "mm/min", Number.DEPTH: "mm", Number.PLUNGE: "mm/min"}


@dataclass(frozen=True)
class Change:
    """A number as it is and as it should be next, and the chip (mm) and bending (mm) that follow."""

    number: Number
    now: float
    then: float
    chip_mm: float
    bend_mm: float


@dataclass(frozen=True)
class StopIf:
    """A trouble and what may be changed, the first one first; none where all is spent."""

    trouble: Trouble
    changes: tuple[Change, ...]


def stop_ifs(cutting: Cutting, bit: Bit, machine: Machine) -> tuple[StopIf, ...]:
    """Every trouble with its changes, for the numbers of this cut."""
    return tuple(StopIf(trouble, tuple(_changes(trouble, cutting, bit, machine))) for trouble in Trouble)


#: In the order in which they are tried: which number, up or down.
_ANSWERS: dict[Trouble, tuple[tuple[Number, int], ...]] = {
    Trouble.MELTS: ((Number.SPEED, -1), (Number.FEED, 1), (Number.DEPTH, -1)),
    Trouble.SQUEALS: ((Number.SPEED, -1), (Number.FEED, 1), (Number.DEPTH, -1)),
    Trouble.CHIPS: ((Number.FEED, -1), (Number.DEPTH, -1)),
    Trouble.CHATTERS: ((Number.DEPTH, -1), (Number.FEED, -1)),
    Trouble.BENDS: ((Number.DEPTH, -1), (Number.FEED, -1)),
    Trouble.LIFTS: ((Number.PLUNGE, -1), (Number.DEPTH, -1)),
}
#: Changes told of one trouble: the second is for a machine that cannot do the first.
_TOLD = 2


def _changes(trouble: Trouble, cutting: Cutting, bit: Bit, machine: Machine) -> Iterator[Change]:
    told = 0
    for number, way in _ANSWERS[trouble]:
        if number is Number.SPEED and machine.spindle == "switch":  # it has one speed
            continue
        shares = OFF_TONE if trouble is Trouble.SQUEALS else SHARES
        change = _change(number, (way, shares), (cutting, bit, machine))
        if change is not None and told < _TOLD:
            told += 1
            yield change


def _change(
    number: Number, how: tuple[int, tuple[float, ...]], what: tuple[Cutting, Bit, Machine]
) -> Change | None:
    """The largest step of a number, up or down, that leaves no limit which it keeps now."""
    (way, shares), (cutting, bit, machine) = how, what
    now, step, least = _SET[number].now(cutting), _SET[number].step, _SET[number].least
    for share in GENTLER if number in (Number.DEPTH, Number.PLUNGE) else shares:
        then = _rounded(now * (1.0 + way * share), step)
        tried = _SET[number].with_value(cutting, then)
        is_change = (then - now) * way > 0.0 and then >= least
        if is_change and tried.feed_mm_min <= machine.top_feed_mm_min and not _newly_out(cutting, tried, bit):
            forces = forces_of(tried, bit)
            return Change(number, now, then, chip_load_mm(tried, bit.flutes), forces.bend_mm)
    return None


def _newly_out(before: Cutting, after: Cutting, bit: Bit) -> bool:
    """Whether a limit is left that was kept before, or is left farther."""
    for was, comes in zip(judged(before, bit), judged(after, bit), strict=True):
        if comes.is_low and (not was.is_low or comes.value < was.value):
            return True
        if comes.is_high and (not was.is_high or comes.value > was.value):
            return True
    return False


def _rounded(value: float, step: float) -> float:
    """To a step that people set; to two places where the number is as small as the step."""
    return round(round(value / step) * step, 6) if value >= 4.0 * step else float(f"{value:.2g}")


@dataclass(frozen=True)
class _Set:
    """How a number is read from a cut and put into it."""

    now: Callable[[Cutting], float]
    with_value: Callable[[Cutting, float], Cutting]
    step: float
    least: float


_SET = {
    Number.SPEED: _Set(
        lambda cut: cut.spindle_rpm, lambda cut, to: replace(cut, spindle_rpm=to), RPM_STEP, LEAST_RPM
    ),
    Number.FEED: _Set(
        lambda cut: cut.feed_mm_min, lambda cut, to: replace(cut, feed_mm_min=to), FEED_STEP, LEAST_FEED
    ),
    Number.DEPTH: _Set(
        lambda cut: cut.depth_per_pass_mm,
        lambda cut, to: replace(cut, depth_per_pass_mm=to),
        DEPTH_STEP,
        LEAST_DEPTH,
    ),
    Number.PLUNGE: _Set(
        lambda cut: cut.plunge_mm_min, lambda cut, to: replace(cut, plunge_mm_min=to), FEED_STEP, LEAST_FEED
    ),
}
