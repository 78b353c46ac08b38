"""What a fault in a file of a kit does: file before and file after, read by others' libraries (readings.py).

It is harm when an edge or a mark has moved by more than 0.01 mm, a size has changed, or a paper, the Job or
the report says something else.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from tests.campaigns import readings as r
from tests.support.pictures import badge_kit

#: mm: what must be seen, and what the oracle's own points leave in doubt.
SEEN, DOUBT = 0.01, 0.001
#: mm; below this nothing has moved.
STILL = 1e-5
REPORT = "report.json"

Files = Mapping[str, bytes]


@dataclass(frozen=True)
class Fault:
    """One change of a kit: its kind, the file it was done to, and all files with it."""

    kind: str
    name: str
    files: Files


def format_of(name: str) -> str:
    """The format that the report lists for a file."""
    if name == REPORT:
        return "json"
    return next(file["format"] for file in badge_kit().report["files"] if file["path"] == name)


READERS = {
    "svg": r.drawn_svg,
    "dxf": r.drawn_dxf,
    "dxf-r12": r.drawn_dxf,
    "hpgl": r.drawn_plot,
    "pdf": r.pages_of,
    "png": r.pixels_of,
    "toml": r.values_of_toml,
    "json": r.values_of_json,
}


@cache
def true_reading(name: str) -> object:
    """What the file of the sound kit says."""
    return READERS[format_of(name)](badge_kit().files[name])


@dataclass(frozen=True)
class Verdict:
    """Harm in words, "" where there is none; is_same: nothing at all has changed in what the file says."""

    harm: str
    is_same: bool


def oracle(fault: Fault) -> Verdict:
    """What the fault does to what the file says."""
    if fault.name not in fault.files:
        return Verdict("lost", is_same=False)
    kind = format_of(fault.name)
    try:
        now = READERS[kind](fault.files[fault.name])
    except r.Unreadable:
        return Verdict("", is_same=False)  # nobody else can read it, so nothing is cut by it
    if isinstance(now, r.Drawn):
        return _drawing_verdict(true_reading(fault.name), now)
    is_same = now == true_reading(fault.name)
    return Verdict("" if is_same else f"the {kind} says something else", is_same)


def _drawing_verdict(before: r.Drawn, now: r.Drawn) -> Verdict:
    worst = max((_layer_moved(before, now, layer) for layer in {*before.layers, *now.layers}), default=0.0)
    harm = f"moved by {worst:.4f} mm" if worst > SEEN + DOUBT else ""
    return Verdict(harm, is_same=worst < STILL and _counts(before) == _counts(now))


def _counts(drawn: r.Drawn) -> dict[str, int]:
    return {layer: len(contours) for layer, contours in drawn.layers.items()}


def _layer_moved(before: r.Drawn, now: r.Drawn, layer: str) -> float:
    """How far anything of a layer has moved, mm; infinite when something is there or gone that was not."""
    ours, theirs = before.layers.get(layer, []), now.layers.get(layer, [])
    if layer == "notes":
        return _heights_moved(ours, theirs)
    if len(ours) != len(theirs) or sorted(c for _, c in ours) != sorted(c for _, c in theirs):
        return np.inf
    if all(
        a.shape == b.shape and np.abs(a - b).max() < STILL
        for (a, _), (b, _) in zip(ours, theirs, strict=True)
    ):
        return 0.0
    return r.moved_by(before.lines(layer), now.lines(layer))


def _heights_moved(ours: list, theirs: list) -> float:
    """The level lines say a height, and nothing else is said in the notes."""
    sizes = [
        np.ptp([points[:, 1].mean() for points, _ in lines]) if lines else 0.0 for lines in (ours, theirs)
    ]
    return float(abs(sizes[0] - sizes[1]))
