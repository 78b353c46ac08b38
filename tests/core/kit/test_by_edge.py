"""A loose part fitted by sight edges: strips in every drawing, proven to lie where the gap is read."""

import json
import re

import pytest

from core.findings import has_stop
from core.kit.check import check_files
from core.proof.layers import read_layers
from tests.support.pictures import badge_kit


@pytest.fixture(scope="module")
def kit():
    return badge_kit(fit__way="edge")


def codes(findings):
    return {finding.code for finding in findings}


def test_four_to_six_strips_stand_in_every_drawing_and_nothing_is_bored(kit):
    marks = kit.report["marks"]
    assert 4 <= len(marks) <= 6
    assert {(mark["kind"], mark["seen"], mark["diameter_mm"]) for mark in marks} == {("edge", "edge", 1.5)}
    drawings = [file for file in kit.report["files"] if file["format"] in {"svg", "dxf"}]
    for file in drawings:
        layers = read_layers(kit.files[file["path"]], file["format"], None)
        assert len(layers.of("marks")) == len(marks)
    assert b"mark" not in kit.files["badge-60mm-part-Ztop.nc"]


def test_everything_is_proven_and_the_error_is_told(kit):
    assert not has_stop(kit.findings)
    assert check_files(kit.files)[1] == ()
    assert kit.report["readback"]["mark_error_mm"] < 0.001
    assert 0.0 < kit.report["fit"]["sight_error_mm"] < 0.4
    assert kit.report["fit"]["forecast"]["claim_mm"] > kit.report["fit"]["sight_error_mm"]


def test_a_gap_that_is_not_the_stated_one_is_a_stop(kit):
    report = json.loads(kit.files["report.json"])
    for mark in report["marks"]:
        mark["gap_mm"] = 0.43
    harmed = dict(kit.files) | {"report.json": json.dumps(report).encode()}
    assert "sight-differs" in codes(check_files(harmed)[1])


def test_a_strip_that_was_moved_is_a_stop(kit):
    name = "badge-60mm-film-teal.svg"
    drawing = kit.files[name].decode()
    moved = re.sub(r'(<g id="marks"[^>]*)>', r'\1 transform="translate(0.02 0)">', drawing, count=1)
    assert moved != drawing
    assert has_stop(check_files(dict(kit.files) | {name: moved.encode()})[1])


@pytest.mark.parametrize(
    "choices", [{"stock__copies": "3"}, {"film__side": "behind"}, {"knife__scale_x": "100.2 %"}]
)
def test_copies_backs_and_corrected_cutters_have_their_strips_too(choices, kit):
    made = badge_kit(fit__way="edge", **choices)
    assert not has_stop(made.findings)
    assert check_files(made.files)[1] == ()
    assert len(made.report["marks"]) == len(made.report["pieces"] * kit.report["marks"])


def test_the_sheet_needs_no_room_for_marks_or_a_hinge(kit):
    sizes = [one.report["stock"]["width_mm"] * one.report["stock"]["depth_mm"] for one in (kit, badge_kit())]
    assert sizes[0] < sizes[1]


def test_a_shape_too_small_for_four_strips_is_told_so():
    assert "no-sight-edge" in codes(badge_kit(fit__way="edge", shape__height="16 mm").findings)
