"""Our programs read by general-purpose readers from the package registry to the same places.

pygcode (end positions, arcs, modal words; it does not convert inches) and gcodeparser (words only; it drops
lines without a G word, so that only lines with one are compared).
"""

import warnings

import numpy as np
import pytest

from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Finish, Spindle, write_program
from core.router.toolpath import Motion, Operation, Toolpath

pytestmark = pytest.mark.outside


def toolpath(seed):
    """A walk of lines, arcs and helices, with a lift and a new place in the middle."""
    random = np.random.default_rng(seed)
    count = 60
    ends = np.column_stack((random.uniform(0, 200, (count, 2)), random.uniform(-3.3, 0, count)))
    bulges = np.where(random.random(count) < 0.5, 0.0, random.uniform(-2, 2, count))
    motions = np.full(count, int(Motion.FEED))
    for at in (0, 30):
        motions[at] = motions[at + 29] = Motion.RAPID
        bulges[at] = bulges[at + 29] = bulges[at + 1] = 0.0
        ends[at + 1, :2], ends[at + 29, :2] = ends[at, :2], ends[at + 28, :2]
        ends[[at, at + 29], 2] = 5.0
    feeds = np.where(motions == Motion.FEED, random.integers(100, 900, count), 0)
    operations = np.arange(count) // 30
    names = (Operation("opening (first)"), Operation("edge, last lap"))
    return Toolpath(np.array([0, 0, 5.0]), ends, bulges, motions, feeds, operations, names)


DIALECTS = {
    "as it comes": Dialect(),
    "chords": Dialect(takes_arcs=False, chord_tolerance_mm=0.05),
    "inches": Dialect(unit="inch"),
    "framed": Dialect(has_per_cent_signs=True, ending="M30", newline="\r\n"),
    "numbered, without comments": Dialect(has_line_numbers=True, has_comments=False),
}


def program_text(seed, dialect):
    zero = ProgramZero((10.0, 20.5), 3.0)
    return write_program(
        toolpath(seed), ("a job (for a test)",), dialect, zero, Spindle(10000, 5), Finish((10, 20.5))
    )


@pytest.mark.parametrize("name", DIALECTS)
def test_pygcode_comes_to_the_same_places(name):
    dialect = DIALECTS[name]
    data = program_text(7, dialect)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own use of what Python has outlived
        from pygcode import Line, Machine  # noqa: PLC0415 - warns on import

        machine, places = Machine(), {}
        for number, text in enumerate(data.decode().splitlines(), 1):
            if text != "%":
                machine.process_block(Line(text).block)
            values = machine.pos.values
            places[number] = [values["X"], values["Y"], values["Z"]]
    ours = read_program(data)
    theirs = np.array([places[int(line)] for line in ours.lines]) * dialect.mm_per_unit()
    np.testing.assert_allclose(theirs[1:], ours.ends[1:], atol=1e-9)


def test_gcodeparser_finds_the_same_words_on_every_line_that_names_its_motion():
    from gcodeparser import parse_gcode_lines  # noqa: PLC0415 - needed only here

    data = program_text(11, Dialect())
    ours = read_program(data)
    texts = data.decode().splitlines()
    named = [
        row for row in range(len(ours)) if texts[int(ours.lines[row]) - 1][:2] in {"G0", "G1", "G2", "G3"}
    ]
    theirs = [
        line for line in parse_gcode_lines(data.decode()) if line.command in {("G", c) for c in range(4)}
    ]
    assert len(theirs) == len(named) > 20
    for row, line in zip(named, theirs, strict=True):
        for axis, letter in enumerate("XYZ"):
            if letter in line.params:
                assert line.params[letter] == pytest.approx(ours.ends[row, axis], abs=1e-9)
        if ours.turns[row]:
            offset = ours.centres[row] - ours.starts[row, :2]
            assert [line.params["I"], line.params["J"]] == pytest.approx(offset.tolist(), abs=1e-9)
        code = 0 if ours.is_rapid[row] else {0: 1, -1: 2, 1: 3}[int(ours.turns[row])]
        assert line.command == ("G", code)
