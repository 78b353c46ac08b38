import pytest
import shapely

from core.errors import UnreadableFile
from core.findings import Level
from core.program.read.read import read_program
from core.proof.programs import clamp_zones, prove_lap, prove_program, read_named
from tests.core.program.programs import START, read, text_of
from tests.core.proof.claimed import claims

OUTLINE = shapely.box(10, 10, 50, 30)
#: Bores the three marks by whole turns of 0.75 mm round their middles, then goes once round on one tab.
BORE = tuple(
    text
    for x, y in ((5, 5), (55, 5), (5, 35))
    for text in (
        f"G0 X{x + 0.75} Y{y}",
        "G1 Z0.5 F120",
        "G1 Z-3.3 F100",
        f"G3 X{x + 0.75} Y{y} I-0.75 J0 F400",
        "G0 Z5",
    )
)
ROUND = (
    "G0 X9 Y10", "G1 Z0.5 F120", "G1 Z-3.3 F100", "G3 X10 Y9 I1 J0 F400",
    "G1 X27.5 Y9", "Z-2.2 F100", "X32.5 F400", "Z-3.3 F100", "X50 F400",
    "G3 X51 Y10 I0 J1", "G1 Y30", "G3 X50 Y31 I-1 J0", "G1 X10", "G3 X9 Y30 I0 J-1", "G1 Y10",
)  # fmt: skip
GOOD = (*BORE, *ROUND)
#: Half a millimetre into the part's face, from above its middle.
GROOVE = ("G0 Z5", "G0 X20 Y20", "G1 Z0.5 F100", "G1 X30 Z-0.5", "G0 Z5")


def proven(*lines, **changes):
    return prove_program(read(*lines), "part.nc", claims(**changes), OUTLINE)


def codes(proof):
    assert all(finding.level is Level.STOP and "part.nc" in finding.text for finding in proof.findings)
    return {finding.code for finding in proof.findings}


def edited(old, new):
    assert old in GOOD
    return [new if text == old else text for text in GOOD]


def test_a_good_program_leaves_the_part_its_marks_and_its_tab():
    proof = proven(*GOOD)
    assert codes(proof) == set()
    assert proof.part.edge.max_mm < 0.01
    assert proof.mark_error_mm < 0.001
    assert proof.rules.checked > 100
    assert proof.rules.broken == ()


def test_everything_is_turned_to_the_frame_before_it_is_compared():
    away = tuple([x + 7.0, y + 3.0] for x, y in ((5, 5), (55, 5), (5, 35)))
    moved = {
        "frame__zero_at": [7.0, 3.0],
        "marks": [{"at": list(at), "diameter_mm": 3.5, "film_diameter_mm": 3.0} for at in away],
        "stock__width_mm": 67.0,
        "stock__depth_mm": 43.0,
        "program__tabs": [{"at": [37.0, 13.0], "neck_mm": 3.0, "wall_mm": 5.0, "height_mm": 0.8}],
    }
    shifted = shapely.affinity.translate(OUTLINE, 7.0, 3.0)
    proof = prove_program(read(*GOOD), "part.nc", claims(**moved), shifted)
    assert codes(proof) == set()


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (edited("G1 Y30", "G1 X51.03 Y30"), "edge-differs"),
        (edited("Z-2.2 F100", "Z-3.3 F100"), "comes-loose"),
        (edited("Z-2.2 F100", "Z-2.3 F100"), "tab-differs"),
        (edited("Z-2.2 F100", "G0 Z-2.2"), "rapid-in-stock"),
        ([*GOOD, "G0 Z5", *BORE[:2], "G1 Z-3.4 F100"], "too-deep"),
        ([*GOOD, *GROOVE], "part-gouged"),
        (BORE, "edge-differs"),
        (ROUND, "marks-differ"),
        ([*BORE[5:], *ROUND], "marks-differ"),
        (edited("G0 X55.75 Y5", "G0 X55.77 Y5"), "marks-differ"),
    ],
)
def test_harm_is_a_stop_that_names_the_program(lines, said):
    if said == "marks-differ" and "G0 X55.77 Y5" in lines:
        lines = [
            "G3 X55.77 Y5 I-0.75 J0 F400" if text == "G3 X55.75 Y5 I-0.75 J0 F400" else text for text in lines
        ]
    assert said in codes(proven(*lines))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"machine__spin_up_s": 9.0}, "no-spin-up"),
        ({"machine__travel_mm": [40.0, 200.0, 50.0]}, "outside-travel"),
        ({"program__spindle_rpm": 9000.0}, "spindle-speed"),
        ({"program__safe_z_mm": 6.0}, "rapid-in-stock"),
        ({"program__bottom_z_mm": -3.2}, "too-deep"),
        ({"program__feed_mm_min": 300.0}, "feed-over-stated"),
        ({"program__plunge_mm_min": 50.0}, "plunge-too-fast"),
        ({"program__bit_mm": 2.1}, "edge-differs"),
        ({"stock__thickness_mm": 3.1}, "tab-missing"),
    ],
)
def test_a_program_that_goes_beyond_a_claim_is_a_stop(changes, said):
    assert said in codes(proven(*GOOD, **changes))


def test_a_loose_piece_is_told_in_the_frame():
    lines = edited("Z-2.2 F100", "Z-3.3 F100")
    (loose,) = [one for one in proven(*lines).findings if one.code == "comes-loose"]
    assert OUTLINE.contains(shapely.Point(loose.at))
    assert f"line {len(START) + len(GOOD)}" in loose.text


#: Round what the bit of 2 mm sweeps of GOOD and from the zero: 0.75 mm beyond the marks, and a radius more.
LAP = ("G0 X-1 Y-1", "G1 X56.75 F1000", "Y36.75", "X-1", "Y-1")


def lap_codes(data):
    return {one.code for one in prove_lap(read_program(data), "lap.nc", claims(), OUTLINE).findings}


def test_a_lap_stays_up_with_its_spindle_off():
    quiet = text_of(*LAP).replace(b"S10000 M3\n", b"")
    assert lap_codes(quiet) == set()
    assert lap_codes(text_of(*LAP)) == {"spindle-on"}
    assert lap_codes(quiet.replace(b"X56.75", b"Z4.9 X56.75"))


def test_a_program_that_is_missing_or_unreadable_is_named():
    with pytest.raises(UnreadableFile, match=r"part\.nc is missing"):
        read_named({}, "part.nc")
    with pytest.raises(UnreadableFile, match=r"part\.nc: "):
        read_named({"part.nc": b"G21\nG7 X1\n"}, "part.nc")


def test_every_drum_above_the_tip_keeps_out_of_every_clamp():
    drums = [{"above_mm": 0.0, "diameter_mm": 2.0}, {"above_mm": 20.0, "diameter_mm": 19.0}]
    clamp = {"at": [50.0, 40.0], "size_mm": [20.0, 10.0], "height_mm": 12.0, "round": True}
    told = claims(clamps=[clamp], program__above_tip=drums, frame__zero_at=[5.0, 5.0])
    bit, nut = clamp_zones(told, told.program)
    assert (bit.x_min, bit.y_max, bit.top_z_mm, bit.diameter_mm) == (35.0, 40.0, 12.0, 2.0)
    assert (nut.top_z_mm, nut.diameter_mm, nut.is_round) == (-8.0, 19.0, True)


def test_a_program_that_runs_into_a_clamp_is_a_stop():
    clamp = {"at": [60.0, 20.0], "size_mm": [10.0, 10.0], "height_mm": 12.0, "round": False}
    assert codes(proven(*GOOD)) == set()
    assert codes(proven(*GOOD, clamps=[clamp | {"at": [56.5, 20.0]}])) == {"in-clamp"}
    assert codes(proven(*GOOD, clamps=[clamp | {"at": [57.5, 20.0]}])) == set()


def test_a_groove_in_the_part_is_told_with_its_line_and_in_the_frame():
    (found,) = [one for one in proven(*GOOD, *GROOVE).findings if one.code == "part-gouged"]
    assert OUTLINE.buffer(0.01).contains(shapely.Point(found.at))
    assert f"line {len(START) + len(GOOD) + 4}:" in found.text


def test_a_groove_beside_the_part_is_the_wastes_own_affair():
    beside = [text.replace("Y20", "Y36") for text in GROOVE]
    assert codes(proven(*GOOD, *beside)) == set()
