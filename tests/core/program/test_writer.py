from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.errors import BadShape, BadValue
from core.outline.segments import Segments
from core.program.read.program import EventKind
from core.program.read.read import read_program
from core.program.write.dialect import Dialect, SpindleBy
from core.program.write.moves import LARGEST_RADIUS_MM, ProgramZero
from core.program.write.writer import Finish, Spindle, write_program
from core.proof.removal import corners_of, cuts_below
from core.proof.sweeps import radii_of, sweeps_of
from core.router.toolpath import Motion, Operation, Toolpath

SPINDLE = Spindle(10000.0, 5.0)
HEAD = ("Turtle, 118 mm", "bit 2 mm, zero on the stock's top")
SAFE = 5.0


def path_of(rows, feed=400.0):
    """A Toolpath down at the first of rows (x, y, z, bulge), along the rest, and up again."""
    cuts = np.array(rows, float)
    x, y = cuts[0, :2]
    ends = np.vstack(([x, y, SAFE], cuts[:, :3], [*cuts[-1, :2], SAFE]))
    bulges = np.concatenate(([0.0, 0.0], cuts[1:, 3], [0.0]))
    motions = np.array([Motion.RAPID] + [Motion.FEED] * len(cuts) + [Motion.RAPID])
    feeds = np.where(motions == Motion.FEED, feed, 0.0)
    operations = np.zeros(len(ends), int)
    return Toolpath(
        np.array([0.0, 0.0, SAFE]), ends, bulges, motions, feeds, operations, (Operation("edge (last lap)"),)
    )


def written(path, dialect=None, zero=None, spindle=SPINDLE, finish=None):
    return write_program(
        path, HEAD, dialect or Dialect(), zero or ProgramZero(), spindle, finish or Finish()
    )  # fmt: skip


PLAIN = path_of([(10, 10, -1, 0), (20, 10, -1, 0), (20, 20, -1, 1.0), (10, 20, -1, 0), (10, 10, -2, -0.5)])

COORDINATE = st.integers(-3_000_000, 3_000_000).map(lambda n: n / 10_000.0 + 0.00003)
BEND = st.one_of(st.just(0.0), st.floats(-3.0, 3.0), st.floats(-1e-4, 1e-4))
ROW = st.tuples(COORDINATE, COORDINATE, st.floats(-5.0, 3.0), BEND)
ROWS = st.lists(ROW, min_size=2, max_size=10, unique_by=lambda row: row[0])
SHORT = st.lists(
    st.tuples(st.floats(0, 0.01), st.floats(0, 0.01), st.just(-1.0), st.floats(-3, 3)),
    min_size=2,
    max_size=12,
)
DIALECTS = st.builds(
    Dialect,
    takes_arcs=st.booleans(),
    chord_tolerance_mm=st.just(0.05),
    decimals=st.sampled_from([None, 3, 4, 5]),
    ending=st.sampled_from(["M2", "M30"]),
    has_per_cent_signs=st.booleans(),
    has_line_numbers=st.booleans(),
    has_comments=st.booleans(),
    newline=st.sampled_from(["\n", "\r\n"]),
    unit=st.sampled_from(["mm", "inch"]),
    dwell_unit=st.sampled_from(["s", "ms"]),
    spindle=st.sampled_from(list(SpindleBy)),
)


def test_a_plain_program_reads_as_a_careful_maker_would_write_it():
    assert written(PLAIN).decode().splitlines() == [
        "(Turtle, 118 mm)",
        "(bit 2 mm, zero on the stock's top)",
        *("G21", "G90", "G94", "G17", "G40", "G80", "G54"),
        *("G0 Z5", "S10000 M3", "G4 P5"),
        "(edge - last lap)",
        *("X10 Y10", "G1 Z-1 F400", "X20", "G3 X20 Y20 I0 J5", "G1 X10", "G2 X10 Y10 Z-2 I-3.75 J-5"),
        *("G0 Z5", "M5", "M2"),
    ]


@settings(max_examples=60, deadline=None)
@given(ROWS, DIALECTS, st.tuples(st.integers(-20, 20), st.integers(-20, 20), st.floats(-3, 6)))
def test_any_path_in_any_dialect_is_read_strictly_to_the_same_ends(rows, dialect, shift):
    path, (x, y, z) = path_of(rows), shift
    zero = ProgramZero((x / 2.0, y / 2.0), z)
    data = written(path, dialect, zero)
    program = read_program(data)
    step = dialect.step_mm()
    wanted = path.ends[1:] + np.array([-x / 2.0, -y / 2.0, z])
    nearest = np.abs(program.ends[1:, None, :] - wanted[None, :, :]).max(axis=2).min(axis=0)
    assert nearest.max() <= step * 0.5001 + 1e-9
    assert program.longest_line <= dialect.line_limit
    assert data.endswith(b"%" + dialect.newline.encode()) == dialect.has_per_cent_signs
    assert bool(program.turns.any()) <= dialect.takes_arcs


def along(path):
    """Points on the cutting moves of a path, as the frame has them."""
    moves = Segments(path.starts()[2:-1, :2], path.ends[2:-1, :2], path.bulges[2:-1])
    return np.vstack([moves.points_at(np.full(len(moves), share)) for share in (0.25, 0.5, 0.75)])


def distance_to(program, points):
    """How far each point is from the nearest of many places along the program's own moves."""

    corners, stretch = corners_of(program, cuts_below(program, 100.0), 1e-4)
    lines = shapely.linestrings(corners, indices=stretch)
    return shapely.distance(shapely.points(points)[:, None], lines[None, :]).min(axis=1)


def _flat_length(program):
    """Of every cutting move after the plunge, seen from above."""
    rows = np.nonzero(~program.is_rapid)[0][1:]
    lengths = np.where(
        program.turns[rows] == 0,
        np.hypot(*(program.ends - program.starts)[rows, :2].T),
        np.abs(sweeps_of(program) * radii_of(program))[rows],
    )
    return lengths.sum()


@settings(max_examples=30, deadline=None)
@given(ROWS)
def test_arcs_written_lie_on_the_arcs_asked_for(rows):
    path = path_of(rows)
    program = read_program(written(path))
    assert distance_to(program, along(path)).max() <= 0.005
    asked = Segments(path.starts()[2:-1, :2], path.ends[2:-1, :2], path.bulges[2:-1]).lengths()
    assert _flat_length(program) == pytest.approx(asked.sum(), abs=0.01 * len(rows))


@settings(max_examples=30, deadline=None)
@given(ROWS)
def test_chords_written_stay_within_the_tolerance_of_their_arcs(rows):
    path = path_of(rows)
    program = read_program(written(path, Dialect(takes_arcs=False, chord_tolerance_mm=0.05)))
    assert distance_to(program, along(path)).max() <= 0.0505


@settings(max_examples=60, deadline=None)
@given(st.floats(-2.9, 2.9), st.floats(0.5, 200.0), st.sampled_from([-1, 0, 1]))
def test_chords_never_come_nearer_to_the_part_than_their_arc(sweep, radius, side):
    assume(abs(sweep) > 0.05)
    turn = sweep / 2.0 + np.array([0.0, 1.0]) * sweep
    at = radius * np.sign(sweep) * np.column_stack((np.sin(turn), 1.0 - np.cos(turn)))
    path = path_of([(*at[0], -1.0, 0.0), (*at[1], -1.0, np.tan(sweep / 4.0))])
    sides = np.zeros(len(path.ends), int)
    sides[2] = side
    program = read_program(written(replace(path, sides=sides), Dialect(takes_arcs=False)))
    feeds = ~program.is_rapid & (np.hypot(*(program.ends - program.starts)[:, :2].T) > 0)
    starts, ends = program.starts[feeds, :2], program.ends[feeds, :2]
    along = np.linspace(0.0, 1.0, 21)[:, None, None]
    away = np.hypot(*((1 - along) * starts + along * ends - [0.0, radius * np.sign(sweep)]).reshape(-1, 2).T)
    nearer_to_part = (radius - away) * np.sign(sweep) * side
    assert nearer_to_part.max() <= 1.5e-4  # what rounding to four decimals moves
    assert np.abs(radius - away).max() <= 0.0022


@settings(max_examples=60, deadline=None)
@given(SHORT, st.sampled_from([2, 3, 4, None]), st.sampled_from(["mm", "inch"]))
def test_no_tiny_arc_becomes_a_whole_turn(rows, decimals, unit):
    dialect = Dialect(decimals=decimals, unit=unit)
    program = read_program(written(path_of(rows), dialect))
    assert np.nanmax(np.abs(program.ends[1:, :2])) <= 0.02 + dialect.step_mm()
    is_arc = program.turns != 0
    chords = np.hypot(*(program.ends - program.starts)[is_arc, :2].T)
    radii = np.hypot(*(program.starts[:, :2] - program.centres)[is_arc].T)
    assert (chords >= 10.0 * dialect.step_mm() * 0.999).all()
    assert (chords / np.maximum(radii, 1e-9) > 5e-7).all()


@settings(max_examples=60, deadline=None)
@given(ROWS, st.sampled_from([2, 3]))
def test_few_decimals_never_break_the_radius_rule(rows, decimals):
    read_program(written(path_of(rows), Dialect(decimals=decimals, chord_tolerance_mm=0.05)))


def test_an_almost_straight_arc_of_a_kilometre_is_written_as_chords():
    path = path_of([(0, 0, -1, 0), (300, 0, -1, 300.0 / (4.0 * 2.0 * LARGEST_RADIUS_MM))])
    program = read_program(written(path))
    assert not program.turns.any()
    assert len(program) > 4


def test_a_near_whole_turn_is_written_in_parts_of_at_most_half_a_turn():
    program = read_program(written(path_of([(0, 0, 0, 0), (0.1, 0, -1, 200.0)])))
    assert np.count_nonzero(program.turns) == 2
    np.testing.assert_allclose(program.ends[3, 2], -0.5)


def test_words_that_stay_the_same_are_not_said_again():
    text = written(path_of([(0, 0, -1, 0), (5, 0, -1, 0), (9, 0, -1, 0), (9, 4, -1, 0)])).decode()
    assert text.count("F400") == 1
    assert "\nX5\nX9\nY4\n" in text


def test_a_clearance_lap_keeps_the_spindle_off():
    program = read_program(written(PLAIN, spindle=None))
    assert not program.rpm.any()
    assert not program.events


@pytest.mark.parametrize("by", [SpindleBy.KNOB, SpindleBy.SWITCH])
def test_a_spindle_that_is_set_by_hand_gets_a_stop_with_the_wanted_speed_while_the_bit_is_up(by):
    program = read_program(written(PLAIN, Dialect(spindle=by)))
    stop = next(event for event in program.events if event.kind is EventKind.STOP)
    assert program.ends[stop.before_move - 1, 2] == SAFE
    assert any("10000 rpm" in remark.text for remark in program.remarks if remark.is_message)
    assert program.events.index(stop) == 0


def test_the_dwell_is_in_the_unit_of_the_controller():
    assert b"\nG4 P5\n" in written(PLAIN)
    assert b"\nG4 P5000\n" in written(PLAIN, Dialect(dwell_unit="ms"))


def test_the_bit_is_parked_at_the_safe_height_with_the_spindle_off():
    program = read_program(written(PLAIN, zero=ProgramZero((10.0, 0.0), 3.0), finish=Finish((30.0, 40.0))))
    np.testing.assert_array_equal(program.ends[-1], [20, 40, SAFE + 3.0])
    assert program.rpm[-1] == 0


def test_a_rapid_aslant_goes_up_before_sideways_and_sideways_before_down():
    ends = np.array([[10, 0, 9], [20, 0, 2], [20, 0, -1], [30, 0, 9.0]])
    motions = np.array([0, 0, 1, 0])
    path = Toolpath(
        np.array([0, 0, 5.0]),
        ends,
        np.zeros(4),
        motions,
        motions * 100.0,
        np.zeros(4, int),
        (Operation("x"),),
    )
    text = written(path).decode()
    assert "G0 Z9\nS10000" in text
    assert "X10 Y0\nX20\nZ2\nG1 Z-1 F100\nG0 Z9\nX30\nM5" in text


def test_line_numbers_begin_anew_before_they_get_too_long():
    rows = [(x % 7, x % 11, -1, 0) for x in range(10_100)]
    program = read_program(written(path_of(rows), Dialect(has_line_numbers=True)))
    assert len(program) > 10_000


def test_a_line_that_is_too_long_gives_up_its_feed_then_its_spaces():
    rows = [(-123.12345, -150.12345, -1, 0), (-173.43217, -150.87653, -2.34567, 0.7)]
    dialect = Dialect(line_limit=60, has_line_numbers=True, decimals=5)
    text = written(path_of(rows), dialect).decode()
    assert max(map(len, text.splitlines())) <= 60
    assert "X-173.43217Y-150.87653Z-2.34567I-" in text
    one_line = written(path_of([rows[0], (*rows[1][:3], 0.7)]), replace(dialect, line_limit=90)).decode()
    np.testing.assert_array_equal(read_program(text.encode()).ends, read_program(one_line.encode()).ends)


def test_a_dialect_that_no_controller_takes_is_refused_in_a_sentence():
    wrong = [
        {"ending": "M99"}, {"newline": "x"}, {"unit": "cm"}, {"dwell_unit": "min"}, {"decimals": 9},
        {"line_limit": 10}, {"chord_tolerance_mm": 0.0},
    ]  # fmt: skip
    for change in wrong:
        with pytest.raises(BadValue, match=r"\.$"):
            Dialect(**change)


@pytest.mark.parametrize(
    "change",
    [
        {"ends": np.full((7, 3), np.nan)},
        {"feeds": np.zeros(7)},
        {"bulges": np.full(7, 0.5)},
    ],
    ids=["no number", "no feed", "a rapid arc"],
)
def test_what_no_program_can_say_is_a_defect_of_the_caller(change):
    parts = {name: getattr(PLAIN, name) for name in PLAIN.__dataclass_fields__} | change
    with pytest.raises(BadShape):
        written(Toolpath(**parts))


def test_equal_toolpaths_give_equal_bytes():
    assert written(PLAIN) == written(
        path_of([(10, 10, -1, 0), (20, 10, -1, 0), (20, 20, -1, 1.0), (10, 20, -1, 0), (10, 10, -2, -0.5)])
    )
