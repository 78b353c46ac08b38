"""Marks that the maker placed by hand take the place of the proposed ones, and are judged like them.

What is bad stays where it was put and is told: a pattern that could be laid wrong, or a hole that opens, is
a stop; a wall thinner than asked, and marks that are read badly, are cautions.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from core.errors import BadValue
from core.findings import Finding, Level, Point
from core.outline.loop import Bounds
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.mark_room import ROUNDING_MM, MarkRoom, nearest_other
from core.sheet.pattern import LARGEST_VARIANCE, SOUGHT_MISS_MM, variances
from core.sheet.rule import GRID_MM
from core.sheet.wrong_fit import worst_wrong_fit

#: What is said only of a pattern that was looked for.
OF_A_SEARCH = frozenset({"no-mark-pattern", "no-fourth-mark"})


def check_marks(places: tuple[Point, ...]) -> None:
    """Raises BadValue for a mark off the grid: no file could say it exactly."""
    if any(abs(value / GRID_MM - round(value / GRID_MM)) > 1e-9 for place in places for value in place):
        raise BadValue(f"Marks stand on a grid of {GRID_MM} mm, so that every file can say them.")


def with_marks(layout: Layout, marks: tuple[Mark, ...], room: MarkRoom, box: Bounds) -> Layout:
    """The same layout with these marks, the key first, and what is to be said of them; box of all parts."""
    proposed = tuple(one for one in layout.findings if one.code not in OF_A_SEARCH)
    return replace(layout, marks=marks, findings=(*proposed, *judged(marks, room, box)))


def unused() -> Finding:
    """A loose part that is fitted by its edge asks for no marks."""
    text = "Marks were placed by hand, and a part that is fitted by its edge has none."
    return Finding(Level.NOTE, "marks-unused", text, "They are kept for another way of fitting.")


def judged(marks: tuple[Mark, ...], room: MarkRoom, box: Bounds) -> tuple[Finding, ...]:
    """What is to be said of marks placed by hand, in the room's coordinates."""
    places = tuple(mark.at for mark in marks)
    alone = (found for mark in marks for found in _of_one(mark, room))
    return (*alone, *_too_close(marks, room), *_of_pattern(places, box))


def _of_one(mark: Mark, room: MarkRoom) -> Iterator[Finding]:
    walls = room.walls(mark.at, is_key=mark.is_key)
    where = f"{'key mark' if mark.is_key else 'mark'} at {mark.at[0]:g}, {mark.at[1]:g} mm"
    ways = ((walls.to_slot, "into the slot or what it frees"), (walls.to_edge, "over the sheet's edge"))
    for over, what in ways:
        if over < 0.0:
            text = f"The {where} reaches {-over:.1f} mm {what}."
            yield Finding(Level.STOP, "mark-opens", text, "Move it, or take the proposed marks.", mark.at)
    if walls.is_open:
        return
    for what, missing in walls.short:
        yield _short(where, what, missing, mark.at)


def _short(where: str, what: str, missing: float, at: Point) -> Finding:
    if what == "a clamp":
        text = f"The {where} stands where the spindle would come too near to a clamp."
        return Finding(Level.CAUTION, "mark-near-clamp", text, "Move the mark or the clamp.", at)
    if what == "the hinge":
        text = f"The {where} stands {missing:.1f} mm inside the strip that is kept free for the hinge."
        return Finding(Level.CAUTION, "mark-in-hinge", text, "Move it, or tape along another side.", at)
    text = f"The wall between the {where} and {what} is {missing:.1f} mm thinner than it should be."
    return Finding(Level.CAUTION, "mark-wall-thin", text, "Move it away from there.", at)


def _too_close(marks: tuple[Mark, ...], room: MarkRoom) -> Iterator[Finding]:
    """Of the nearest two."""
    places = tuple(mark.at for mark in marks)
    gaps = [nearest_other(places, index) for index in range(len(places))]
    closest = int(np.argmin(gaps))
    asked = 2.0 * room.clearances.to_edge(is_key=True)
    if gaps[closest] >= asked - ROUNDING_MM:
        return
    is_joined = gaps[closest] < max(mark.diameter_mm for mark in marks)
    yield Finding(
        Level.STOP if is_joined else Level.CAUTION,
        "marks-too-close",
        f"Two marks are only {gaps[closest]:.1f} mm apart; {asked:.0f} mm leave a sound wall between them.",
        "Move them apart.",
        places[closest],
    )


def _of_pattern(places: tuple[Point, ...], box: Bounds) -> Iterator[Finding]:
    miss = worst_wrong_fit(places)
    if miss < SOUGHT_MISS_MM:
        yield Finding(
            Level.STOP,
            "marks-fit-wrong",
            f"A film turned or turned over would miss these marks by {miss:.1f} mm only, and pass for right.",
            f"Make the three sides of the pattern differ more: {SOUGHT_MISS_MM:g} mm are asked.",
            places[0],
        )
    variance = float(variances(np.array([[complex(x, y) for x, y in places]]), box)[0])
    if variance > LARGEST_VARIANCE:
        yield Finding(
            Level.CAUTION,
            "marks-read-badly",
            f"These marks stand so close, or so far to one side, that an error in laying them grows "
            f"{variance**0.5:.1f} times at the part's far corner.",
            "Move them apart, round the part.",
            places[0],
        )
