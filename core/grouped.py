"""Findings of one kind told once: how many, one sentence with the range of its numbers, and every place."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from core.findings import Finding, Level, Point, worst_first

#: A number of its own: the 2 of mm2 is none.
_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Group:
    """Findings of one level and code whose sentences differ in their numbers alone, at most."""

    level: Level
    code: str
    text: str
    remedy: str
    findings: tuple[Finding, ...]

    @property
    def places(self) -> tuple[Point, ...]:
        """Every place, mm in the frame."""
        return tuple(finding.at for finding in self.findings if finding.at is not None)


def grouped(findings: Sequence[Finding]) -> tuple[Group, ...]:
    """Groups in the order of their first finding, worst first."""
    found: dict[tuple[Level, str, str], list[Finding]] = {}
    for finding in worst_first(tuple(findings)):
        key = (finding.level, finding.code, _NUMBER.sub("#", finding.text))
        found.setdefault(key, []).append(finding)
    return tuple(
        Group(level, code, _told([one.text for one in same]), same[0].remedy, tuple(same))
        for (level, code, _), same in found.items()
    )


def _told(texts: Sequence[str]) -> str:
    """The sentence, each number that differs written as a range."""
    numbers = [_NUMBER.findall(text) for text in texts]
    ranges = iter([_range(column) for column in zip(*numbers, strict=True)])
    return _NUMBER.sub(lambda _found: next(ranges), texts[0]).replace("mm2", "mm²")


def _range(written: Sequence[str]) -> str:
    low, high = min(written, key=float), max(written, key=float)
    return low if float(low) == float(high) else f"{low} to {high}"
