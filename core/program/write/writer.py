"""The router program: a safe start, the moves, a safe end (NISTIR 6556; order of items: common practice).

One item a line. The unit comes first, since F on the unit's own line is read in the old one (Table 8), and
the bit is lifted before it goes anywhere sideways.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from core.errors import BadShape
from core.findings import Point
from core.program.write.blocks import Blocks, Place, Said
from core.program.write.comment import comment_lines, message_line
from core.program.write.dialect import DWELL_PER_SECOND, Dialect, SpindleBy
from core.program.write.moves import ProgramZero, moves_of, suited
from core.program.write.number import rounded_text
from core.program.write.page import fitted, page_bytes, room
from core.program.write.steps import Steps, stepped
from core.router.toolpath import Toolpath

UNIT_WORDS = {"mm": "G21", "inch": "G20"}
SAFE_MODES = ("G90", "G94", "G17", "G40", "G80", "G54")


@dataclass(frozen=True)
class Spindle:
    """How fast it turns, and how long it takes to get there."""

    rpm: float
    spin_up_s: float


@dataclass(frozen=True)
class Finish:
    """Where the bit is left, in the frame, mm; None leaves it above the last cut."""

    park: Point | None = None


def write_program(
    toolpath: Toolpath,
    head: tuple[str, ...],
    dialect: Dialect,
    zero: ProgramZero,
    spindle: Spindle | None,
    finish: Finish = Finish(),
) -> bytes:
    """The Toolpath (frame, z from the stock's bare top) as a program counted from zero.

    head: lines for people, in their order. spindle None writes a program that keeps it off, as the
    clearance lap wants. Arcs stay arcs, their radius mismatch inside NISTIR 6556 3.5.3.2 after rounding.
    Raises BadShape for a Toolpath that no program can say.
    """
    moves = moves_of(toolpath, zero)
    if not moves.bulges.size:
        raise BadShape("a Toolpath without a move makes no program")
    steps = stepped(suited(moves, dialect), dialect)
    highest = max(toolpath.start[2], float(toolpath.ends[:, 2].max())) + zero.z_shift_mm
    lift = round(highest / dialect.step_mm())
    blocks = Blocks(dialect, Said("", None, None, None, ""))
    names = tuple(operation.name for operation in toolpath.names)
    lines = [
        *_comments(head, dialect),
        *_zero_message(zero, dialect),
        UNIT_WORDS[dialect.unit],
        *SAFE_MODES,
        *_lift(blocks, lift),
        *_spindle_on(spindle, dialect),
        *_body(blocks, steps, names),
        *_lift(blocks, lift),
        *_spindle_off(spindle, dialect),
        *_park(blocks, finish, zero, lift),
        dialect.ending,
    ]
    return page_bytes(lines, dialect)


def _comments(texts: tuple[str, ...], dialect: Dialect) -> Iterator[str]:
    if dialect.has_comments:
        for text in texts:
            yield from comment_lines(text, room(dialect))


def _zero_message(zero: ProgramZero, dialect: Dialect) -> Iterator[str]:
    """The surface that Z counts from, shown before all: the wrong one is a sheet's thickness off."""
    if zero.surface and dialect.has_comments:
        yield message_line(f"Z0 is the {zero.surface}", room(dialect))


def _lift(blocks: Blocks, z: int) -> Iterator[str]:
    for words in blocks.lift(z):
        yield from fitted(words, blocks.dialect)


def _spindle_on(spindle: Spindle | None, dialect: Dialect) -> Iterator[str]:
    if spindle is None:
        yield "M5"
        return
    rpm = rounded_text(spindle.rpm, 0)
    yield from _operator_stop(rpm, dialect)
    yield f"S{rpm} M3"
    yield f"G4 P{rounded_text(spindle.spin_up_s * DWELL_PER_SECOND[dialect.dwell_unit], 3)}"


def _operator_stop(rpm: str, dialect: Dialect) -> Iterator[str]:
    """A spindle that the program cannot set waits for the maker; S and M3 follow, harmless where unwired."""
    sentences = {
        SpindleBy.PROGRAM: "",
        SpindleBy.KNOB: f"set the spindle knob to {rpm} rpm, then resume",
        SpindleBy.SWITCH: f"switch the spindle on at {rpm} rpm, then resume",
    }
    sentence = sentences[dialect.spindle]
    if sentence and dialect.has_comments:
        yield message_line(sentence, room(dialect))
    if sentence:
        yield "M0"


def _body(blocks: Blocks, steps: Steps, names: tuple[str, ...]) -> Iterator[str]:
    operations = steps.operations
    begins = np.append(True, operations[1:] != operations[:-1]) if operations.size else operations
    for row in range(operations.size):
        if begins[row]:
            yield from _comments((names[operations[row]],), blocks.dialect)
        for words in blocks.lines(steps, row):
            yield from fitted(words, blocks.dialect)


def _spindle_off(spindle: Spindle | None, dialect: Dialect) -> Iterator[str]:
    if spindle is None:
        return
    if dialect.spindle is SpindleBy.SWITCH and dialect.has_comments:
        yield message_line("switch the spindle off", room(dialect))
    yield "M5"


def _park(blocks: Blocks, finish: Finish, zero: ProgramZero, lift: int) -> Iterator[str]:
    if finish.park is None:
        return
    step = blocks.dialect.step_mm()
    place: Place = (
        round((finish.park[0] - zero.at[0]) / step),
        round((finish.park[1] - zero.at[1]) / step),
        lift,
    )
    for words in blocks.rapid(place):
        yield from fitted(words, blocks.dialect)
