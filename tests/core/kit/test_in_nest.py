"""The loose part in a nest: a board with its own program, read back, and the part laid in its pocket."""

import json
import re

import pypdfium2
import pytest

from core.findings import has_stop
from core.kit.check import check_files
from tests.support.pictures import badge_kit

NEST = "badge-60mm-nest-Ztop.nc"


@pytest.fixture(scope="module")
def kit():
    return badge_kit(fit__way="nest")


def codes(findings):
    return {finding.code for finding in findings}


def checked(kit, **files):
    return check_files(dict(kit.files) | files)[1]


def with_nest(kit, **changes):
    report = json.loads(kit.files["report.json"])
    report["nest"] |= changes
    return dict(kit.files) | {"report.json": json.dumps(report).encode()}


def test_the_board_has_a_program_of_its_own_and_everything_is_proven(kit):
    roles = [file["role"] for file in kit.report["files"]]
    assert roles.count("nest-program") == 1
    assert not has_stop(kit.findings)
    assert kit.report["readback"]["mark_error_mm"] < 0.001
    assert checked(kit) == ()


def test_the_boards_lap_goes_round_its_program_and_one_that_does_not_is_a_stop(kit):
    path = "badge-60mm-nest-lap-Ztop.nc"
    assert [file["role"] for file in kit.report["files"] if file["path"] == path] == ["nest-lap"]
    text = kit.files[path].decode()
    assert "M3" not in text
    far = max(float(x) for x in re.findall(r"X([\d.]+)", text))
    assert "lap-differs" in codes(checked(kit, **{path: text.replace(f"X{far:g}", f"X{far - 1:g}").encode()}))
    low = re.sub(r"Z5(\.\d+)?", "Z2", text)
    assert low != text
    assert codes(checked(kit, **{path: low.encode()})) - {"file-changed"}
    spinning = text.replace("G54\n", "G54\nS1000 M3\n")
    assert spinning != text
    assert codes(checked(kit, **{path: spinning.encode()})) - {"file-changed"}


def test_pins_stand_in_the_board_and_nothing_is_bored_in_the_sheet(kit):
    assert {(mark["kind"], mark["seen"], mark["diameter_mm"]) for mark in kit.report["marks"]} == {
        ("blind", "punch", 5.0)
    }
    assert b"mark" not in kit.files["badge-60mm-part-Ztop.nc"]
    assert b"pin" in kit.files[NEST]


def test_the_sheet_of_a_loose_part_is_smaller_than_one_with_marks(kit):
    sizes = [one.report["stock"]["width_mm"] * one.report["stock"]["depth_mm"] for one in (kit, badge_kit())]
    assert sizes[0] < sizes[1]


def test_the_pocket_leaves_a_millimetre_of_the_part_standing_out(kit):
    nest, stock = kit.report["nest"], kit.report["stock"]
    assert nest["pocket_depth_mm"] == pytest.approx(stock["thickness_mm"] - 1.0)
    lowest = min(float(z) for z in re.findall(rb"Z(-[\d.]+)", kit.files[NEST]))
    assert lowest == pytest.approx(-max(nest["pocket_depth_mm"], nest["mark_depth_mm"]))


def test_a_wall_that_was_not_cut_is_a_stop(kit):
    head, _ = kit.files[NEST].split(b"(pocket, wall)")
    harmed = head + b"G0 Z5\nM5\nM2\n"
    assert "nest-interferes" in codes(checked(kit, **{NEST: harmed}))


def test_less_room_than_is_stated_is_a_stop(kit):
    assert "nest-interferes" in codes(check_files(with_nest(kit, clearance_mm=0.18))[1])


def test_a_part_that_moves_farther_than_the_report_says_is_a_stop(kit):
    play = kit.report["nest"]["play_mm"]
    assert "nest-too-loose" in codes(check_files(with_nest(kit, play_mm=0.5 * play))[1])
    assert "nest-too-loose" not in codes(check_files(with_nest(kit, play_mm=2.0 * play))[1])


def test_a_pocket_that_lies_elsewhere_than_its_pins_is_a_stop(kit):
    x, y = kit.report["nest"]["zero_at"]
    found = codes(check_files(with_nest(kit, zero_at=[x + 0.5, y]))[1])
    assert {"marks-differ", "nest-interferes"} <= found


def test_a_kit_without_the_board_it_tells_of_is_a_stop(kit):
    report = json.loads(kit.files["report.json"])
    report["files"] = [file for file in report["files"] if file["role"] != "nest-program"]
    harmed = dict(kit.files) | {"report.json": json.dumps(report).encode()}
    assert "program-missing" in codes(check_files(harmed)[1])


@pytest.mark.parametrize(
    "choices", [{"stock__copies": "3"}, {"stock__copies": "3", "stock__nesting": "tight"}]
)
def test_copies_lie_in_pockets_of_their_own_on_one_board(choices):
    many = badge_kit(fit__way="nest", machine__travel_x="500 mm", machine__travel_y="500 mm", **choices)
    assert not has_stop(many.findings)
    assert checked(many) == ()


def test_a_routers_correction_is_in_the_boards_program_too_and_is_undone_by_the_proof(kit):
    bent = badge_kit(fit__way="nest", machine__scale_x="100.3 %", machine__skew="0.1 deg")
    assert bent.files[NEST] != kit.files[NEST]
    assert not has_stop(bent.findings)


def test_a_board_too_thin_for_pocket_and_pins_is_a_stop():
    thin = badge_kit(fit__way="nest", fit__board="4 mm")
    assert "board-too-thin" in codes(thin.findings)
    assert thin.report["program"] is None
    assert thin.report["nest"] is None


def test_a_film_for_the_back_has_no_nest():
    assert "nest-behind" in codes(badge_kit(fit__way="nest", film__side="behind").findings)


def test_the_play_is_in_the_forecast_of_the_fit(kit):
    claims = [one.report["fit"]["forecast"]["claim_mm"] for one in (kit, badge_kit())]
    assert claims[0] > claims[1]


def test_pins_are_measured_in_the_board_and_not_in_the_sheet(kit):
    pdf = pypdfium2.PdfDocument(kit.files["badge-60mm-job-sheet.pdf"])
    words = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    assert "in the nest board and in the film" in words
    assert "in the sheet and in the film" not in words
    assert NEST in words
