"""The lap shows what the part program sweeps: every side of it, no more, and each clamp."""

from dataclasses import replace

import pytest

from core.findings import Level
from core.proof.claims import ClampClaim
from core.proof.lap import lap_findings
from tests.core.program.programs import read
from tests.core.proof.claimed import claims
from tests.core.proof.test_programs import GOOD, LAP

CLAMP = ClampClaim((60.0, 20.0), (6.0, 10.0), 12.0, is_round=False)
ROUND_CLAMP = ClampClaim((30.0, 41.0), (8.0, 8.0), 12.0, is_round=True)


def found(*lap, **changes):
    return lap_findings("lap.nc", read(*lap), read(*GOOD), replace(claims(), **changes))


def changed(old, new):
    assert any(old in line for line in LAP)
    return [line.replace(old, new) for line in LAP]


def test_a_lap_round_all_that_is_swept_has_nothing_to_say():
    assert found(*LAP) == ()
    assert found(*changed("X56.75", "X56.77")) == ()  # no more than a rounding


@pytest.mark.parametrize(
    "lap",
    [
        changed("X56.75", "X56.85"),
        changed("X56.75", "X56.65"),
        changed("Y36.75", "Y40"),
        changed("-1", "3.25"),
        LAP[:3],  # two sides alone, which reach as far as all four
        ("G0 X-1 Y-1", "G1 X56.75 Y36.75 F1000"),
        [*LAP, "X0 Y0", "X-9"],
    ],
)
def test_a_lap_round_anything_else_is_a_stop_that_names_it(lap):
    (stop,) = found(*lap)
    assert (stop.level, stop.code, "lap.nc" in stop.text) == (Level.STOP, "lap-differs", True)


@pytest.mark.parametrize("clamp", [CLAMP, ROUND_CLAMP])
def test_a_clamp_is_passed_as_near_as_the_program_passes_it(clamp):
    assert found(*LAP, clamps=(clamp,)) == ()  # the rectangle alone comes nearer than the program does


def test_a_clamp_in_the_middle_is_passed_too():
    inner = ClampClaim((53.0, 20.0), (2.0, 2.0), 12.0, is_round=True)
    (stop,) = found(*LAP, clamps=(inner,))
    assert (stop.code, stop.at) == ("lap-differs", (53.0, 20.0))
    assert found(*LAP, "X51 Y20", clamps=(inner,)) == ()


def test_a_clamp_is_looked_for_where_it_lies_from_the_zero():
    inner = ClampClaim((63.0, 25.0), (2.0, 2.0), 12.0, is_round=True)
    assert found(*LAP, "X51 Y20", clamps=(inner,), zero_at=(10.0, 5.0)) == ()
    assert found(*LAP, clamps=(inner,), zero_at=(10.0, 5.0))
