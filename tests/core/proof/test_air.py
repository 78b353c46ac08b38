"""The air cut is the part program raised as a whole; anything else is a stop."""

from dataclasses import replace

import numpy as np
import pytest

from core.program.read.read import read_program
from core.proof.air import air_findings

PART = b"G21\nG90\nG17\nG0 Z5\nS10000 M3\nG0 X1 Y1\nG1 Z-1 F100\nG2 X5 Y5 I2 J2\nG1 X9 F300\nG0 Z5\nM5\nM2\n"
AIR = PART.replace(b"Z5", b"Z25").replace(b"Z-1", b"Z19")


def found(air, raised=20.0):
    return [each.code for each in air_findings("air.nc", read_program(air), read_program(PART), raised)]


def test_the_same_path_raised_is_an_air_cut():
    assert found(AIR) == []


@pytest.mark.parametrize(
    "change",
    [
        (b"Z19", b"Z-1"),
        (b"X9", b"X9.01"),
        (b"X5 Y5 I2 J2", b"X5 Y5 I1.99 J2.01"),
        (b"G2 X5", b"G3 X5"),
        (b"F300", b"F600"),
        (b"S10000", b"S9000"),
        (b"G1 X9 F300\n", b""),
        (b"G1 X9", b"G0 X9"),
    ],
)
def test_every_other_path_is_named_with_its_line(change):
    assert found(AIR.replace(*change)) == ["air-differs"]


def test_it_is_raised_by_what_the_report_says():
    assert found(AIR, raised=19.0) == ["air-differs"]


def test_a_place_that_was_never_said_is_the_same_in_both():
    part = read_program(PART)
    lost = replace(part, starts=np.where(np.isnan(part.starts), np.nan, part.starts))
    assert air_findings("air.nc", lost, lost, 0.0) == ()
