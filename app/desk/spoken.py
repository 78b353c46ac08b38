"""Values of choices as the window says them: with a unit always, and in the other unit beside."""

from typing import Any

from core.job.choice import AUTO, Choice
from core.job.job import Job
from core.job.kinds import Quantity, Several
from core.units import AREA, FEED, LENGTH, Family, Measure, parsed, plain_signs, printed

#: family: the metric unit, its decimals; the inch unit, its decimals (0.001 in is 0.025 mm).
_OTHERS: dict[str, tuple[tuple[str, int], tuple[str, int]]] = {
    LENGTH.noun: (("mm", 2), ("in", 3)),
    AREA.noun: (("mm2", 2), ("in2", 4)),
    FEED.noun: (("mm/min", 0), ("in/min", 1)),
}
#: mm; what is smaller takes two decimals more in inches, where three would round it away.
SMALL_MM = 0.2


def said(choice: Choice, value: Any) -> str:
    """The value as it was typed, with its unit where none was typed."""
    if value is AUTO:
        return "auto"
    kind = choice.kind
    if isinstance(kind, Quantity):
        return _with_unit(value, kind.family)
    if isinstance(kind, Several) and isinstance(kind.of, Quantity):
        family = kind.of.family
        return "; ".join(_with_unit(one, family) for one in value)
    return choice.written(value)


def _with_unit(measure: Measure, family: Family) -> str:
    typed = measure.typed
    has_unit = any(sign.isalpha() or sign in "\"'°%" for sign in plain_signs(typed))
    return typed if has_unit else f"{typed} {family.bare_unit}"


def other_unit(choice: Choice, value: Any) -> str:
    """The same in inches where it was typed in metres, and the other way; empty where there is no other."""
    kind = choice.kind
    if value is not AUTO and isinstance(kind, Several) and len(value) == 1:
        kind, value = kind.of, value[0]
    if not isinstance(kind, Quantity) or not isinstance(value, Measure):
        return ""
    if kind.family.noun not in _OTHERS:
        return ""
    metric, inch = _OTHERS[kind.family.noun]
    spelling, decimals = metric if _is_inch(value) else inch
    if spelling == "in" and 0.0 < value.value < SMALL_MM:
        decimals += 2
    return printed(value.value, kind.family, spelling, decimals).replace("mm2", "mm²").replace("in2", "in²")


def _is_inch(measure: Measure) -> bool:
    return "in" in measure.typed.replace("min", "") or '"' in measure.typed or "thou" in measure.typed


def is_in_inches(job: Job) -> bool:
    """Whether the maker thinks in inches: the height was typed so."""
    return isinstance(job.shape.height, Measure) and _is_inch(job.shape.height)


def length_mm(text: str) -> float:
    """A length as people type it, mm. Raises BadValue."""
    return parsed(text, LENGTH).value
