"""The moves as they are read: one growing row of numbers a move, turned into arrays once at the end."""

from array import array
from dataclasses import dataclass, field

import numpy as np

from core.program.read.lexer import refuse
from core.program.read.program import Ending, Event, Flags, Floats, Ints, Preamble, Program, Remark, Turns

#: Numbers in a row: end x y z, centre x y, turn, is rapid, feed, rpm, line.
ROW = 10
#: mm and mm/min; a kilometre, past which a number is a slip and its squares lose their digits.
FURTHEST = 1e6


@dataclass
class Record:
    """What has been read so far; numbers in a flat array, since two million moves must fit in memory."""

    rows: "array[float]" = field(default_factory=lambda: array("d"))
    events: list[Event] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)

    def count(self) -> int:
        """Moves so far."""
        return len(self.rows) // ROW


@dataclass(frozen=True)
class Frame:
    """What is known of the file when all of it has been read."""

    unit: str
    preamble: Preamble
    ending: Ending
    line_count: int
    longest_line: int


def _numbers(values: Floats) -> Floats:
    copy = np.ascontiguousarray(values).copy()
    copy.setflags(write=False)
    return copy


def _whole(values: Floats) -> Ints:
    copy = values.astype(np.int64)
    copy.setflags(write=False)
    return copy


def _turns(values: Floats) -> Turns:
    copy = values.astype(np.int8)
    copy.setflags(write=False)
    return copy


def _flags(values: Floats) -> Flags:
    copy = np.asarray(values != 0.0)
    copy.setflags(write=False)
    return copy


def _refuse_far(table: Floats) -> None:
    far = (np.abs(table[:, [0, 1, 2, 3, 4, 7]]) > FURTHEST).any(axis=1)
    if far.any():
        refuse(int(table[np.argmax(far), 9]), "a number is larger than any machine is")


def program_of(record: Record, frame: Frame) -> Program:
    """The Program that the rows make."""
    table = np.frombuffer(record.rows, dtype=np.float64).reshape(-1, ROW)
    _refuse_far(table)
    ends = _numbers(table[:, 0:3])
    first = np.full((min(1, len(ends)), 3), np.nan)
    return Program(
        starts=_numbers(np.vstack((first, ends[:-1]))),
        ends=ends,
        centres=_numbers(table[:, 3:5]),
        turns=_turns(table[:, 5]),
        is_rapid=_flags(table[:, 6]),
        feeds=_numbers(table[:, 7]),
        rpm=_numbers(table[:, 8]),
        lines=_whole(table[:, 9]),
        events=tuple(record.events),
        remarks=tuple(record.remarks),
        unit=frame.unit,
        preamble=frame.preamble,
        ending=frame.ending,
        line_count=frame.line_count,
        longest_line=frame.longest_line,
    )
