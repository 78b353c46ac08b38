"""A machine's correction: applied last, to its own files alone, stated, and undone by the proof."""

import json
import re

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.findings import has_stop
from core.kit.check import check_files
from core.kit.corrected import corrected_loop
from core.outline.loop import Loop
from core.outline.segments import Segments
from core.program.read.read import read_program
from core.proof.correction import CorrectionClaim, undone_contour, undone_program
from core.proof.layers import read_layers
from core.router.corrected import corrected
from core.router.toolpath import Motion, Operation, Toolpath
from core.sheet.correction import Correction
from tests.support.pictures import badge_kit

CORRECTIONS = st.builds(Correction, st.floats(0.98, 1.02), st.floats(0.98, 1.02), st.floats(-0.01, 0.01))
LOOPS = st.lists(st.tuples(st.floats(0.3, 1.0), st.floats(-0.9, 0.9)), min_size=3, max_size=9)
ALL = {
    "machine__scale_x": "100.4 %",
    "machine__scale_y": "99.7 %",
    "machine__skew": "0.15 deg",
    "knife__scale_x": "99.5 %",
    "knife__scale_y": "100.2 %",
    "knife__skew": "-0.1 deg",
}


def wavy(said, size=60.0):
    """A closed chain of arcs round the origin."""
    angles = np.linspace(0, 2 * np.pi, len(said), endpoint=False)
    radii = size * np.array([radius for radius, _ in said])
    points = np.column_stack((70.0 + radii * np.cos(angles), 80.0 + radii * np.sin(angles)))
    return Loop(points, np.array([bulge for _, bulge in said]))


def level_lines(svg):
    """The heights at which the notes of a drawing begin their lines."""
    notes = svg.decode().partition('id="notes"')[2]
    return [float(y) for y in re.findall(r'<path[^>]* d="M[-0-9.]+ ([-0-9.]+)', notes)]


def along(segments: Segments, count=400):
    """Places all along the segments, finely."""
    rows = np.repeat(np.arange(len(segments)), count)
    share = np.tile(np.linspace(0, 1, count), len(segments))
    picked = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    return picked.points_at(share)


@given(LOOPS, CORRECTIONS)
@settings(deadline=None, max_examples=8)
def test_a_corrected_contour_is_the_bent_one_within_two_microns(said, correction):
    loop = wavy(said)
    wanted = shapely.LineString(correction.of(along(loop.segments(), 2000)))
    found = along(corrected_loop(loop, correction).segments(), 60)
    assert shapely.distance(wanted, shapely.points(found)).max() <= 0.002


@given(LOOPS, CORRECTIONS)
@settings(deadline=None, max_examples=8)
def test_the_proof_finds_the_contour_before_it_was_corrected(said, correction):
    loop = wavy(said)
    written = corrected_loop(loop, correction)
    claim = CorrectionClaim(correction.scale_x, correction.scale_y, np.degrees(correction.skew))
    points, bulges = undone_contour(written.points, written.bulges, claim, is_closed=True)
    wanted = shapely.LineString(along(loop.segments(), 2000))
    found = along(Segments.between(points, bulges), 20)
    assert shapely.distance(wanted, shapely.points(found)).max() <= 0.003


@given(CORRECTIONS, st.floats(-100, 100), st.floats(-100, 100))
@settings(deadline=None)
def test_a_reading_is_taken_back_to_where_it_truly_is(correction, x, y):
    there = correction.of(np.array([[x, y]]))[0]
    assert correction.back(tuple(there)) == pytest.approx((x, y), abs=1e-9)


def test_a_helix_keeps_its_height_along_the_way():
    ends = np.array([[10.0, 0.0, -1.0], [0.0, 0.0, -2.0]])
    feeds, ones = np.full(2, 100.0), np.full(2, int(Motion.FEED))
    path = Toolpath(
        np.zeros(3), ends, np.array([1.0, 1.0]), ones, feeds, np.zeros(2, int), (Operation("mark"),)
    )
    got = corrected(path, Correction(1.02, 0.98, 0.005), (0.0, 0.0))
    lengths = np.cumsum(Segments(got.starts()[:, :2], got.ends[:, :2], got.bulges).lengths())
    assert got.ends[-1] == pytest.approx((0, 0, -2))
    assert got.ends[:, 2] == pytest.approx(-2 * lengths / lengths[-1], abs=0.03)


@pytest.fixture(scope="module")
def kit():
    return badge_kit(**ALL)


def test_every_promise_holds_after_the_correction_is_undone(kit):
    report = kit.report
    assert not has_stop(kit.findings)
    assert report["correction"]["router"]["scale_x"] == pytest.approx(1.004)
    assert report["correction"]["cutter"]["skew_deg"] == pytest.approx(-0.1)
    assert report["readback"]["height_error_mm"] < 0.005
    assert report["readback"]["edge_error_mm"]["max"] < 0.01
    assert all(error["max"] < 0.01 for error in report["readback"]["film_error_mm"].values())
    assert report["readback"]["mark_error_mm"] <= 0.001
    assert check_files(kit.files)[1] == ()


def test_the_correction_is_in_the_machines_own_files_and_in_no_other(kit):
    plain = badge_kit()
    assert kit.files["badge-60mm-part.svg"] == plain.files["badge-60mm-part.svg"]
    notes = [level_lines(each.files["badge-60mm-film-teal.svg"]) for each in (plain, kit)]
    assert abs(notes[1][0] - notes[1][1]) == pytest.approx(60 * 1.002, abs=0.005)
    assert abs(notes[0][0] - notes[0][1]) == pytest.approx(60, abs=0.005)


def test_a_program_is_what_the_plain_one_says_corrected(kit):
    written = [read_program(each.files["badge-60mm-part-Ztop.nc"]) for each in (badge_kit(), kit)]
    back = undone_program(written[1], CorrectionClaim(1.004, 0.997, 0.15))
    ends = [np.nanmax(one.ends[:, :2], axis=0) for one in (written[0], back)]
    assert ends[0] == pytest.approx(ends[1], abs=0.01)
    assert np.nanmax(written[1].ends[:, 0]) > ends[0][0] + 0.2


def test_another_correction_than_the_files_have_is_a_stop(kit):
    report = json.loads(kit.files["report.json"])
    report["correction"]["cutter"]["scale_x"] = 1.0
    assert has_stop(check_files(dict(kit.files) | {"report.json": json.dumps(report).encode()})[1])
    report = json.loads(kit.files["report.json"])
    report["correction"]["router"] = None
    assert has_stop(check_files(dict(kit.files) | {"report.json": json.dumps(report).encode()})[1])


@pytest.fixture(scope="module")
def wide():
    return badge_kit(machine__width="0.13 mm", knife__width="0.06 mm")


def test_widths_are_stated_and_undone_by_the_proof(wide):
    stated = wide.report["correction"]
    assert stated["router"]["width_mm"] == pytest.approx(0.13)
    assert stated["cutter"]["width_mm"] == pytest.approx(0.06)
    assert wide.report["program"]["bit_mm"] == 2.0
    assert not has_stop(wide.findings)
    assert wide.report["readback"]["edge_error_mm"]["max"] < 0.01
    assert all(error["max"] < 0.01 for error in wide.report["readback"]["film_error_mm"].values())
    assert wide.report["readback"]["mark_error_mm"] <= 0.001
    assert check_files(wide.files)[1] == ()


@pytest.mark.parametrize("machine", ["router", "cutter"])
def test_a_width_that_is_not_stated_is_a_stop(wide, machine):
    report = json.loads(wide.files["report.json"])
    report["correction"][machine]["width_mm"] = 0.0
    harmed = dict(wide.files) | {"report.json": json.dumps(report).encode()}
    assert has_stop(check_files(harmed)[1])


def test_the_path_keeps_off_the_part_by_half_of_what_the_router_cuts_wider(wide):
    gaps = []
    for kit in (badge_kit(), wide):
        program = read_program(kit.files["badge-60mm-part-Ztop.nc"])
        part = read_layers(kit.files["badge-60mm-part.svg"], "svg", None).area("as-cut")
        cuts = program.ends[program.ends[:, 2] < -3.0, :2]
        gaps.append(shapely.distance(shapely.points(cuts), part).min())
    assert gaps == pytest.approx([1.0, 1.065], abs=2e-3)


def test_films_and_dots_are_drawn_larger_by_the_cutters_width(wide):
    name = "badge-60mm-film-teal.svg"
    areas = [read_layers(kit.files[name], "svg", None) for kit in (badge_kit(), wide)]
    films = [each.area("film-teal") for each in areas]
    lengths = films[0].length
    assert films[1].area - films[0].area == pytest.approx(0.03 * lengths, rel=0.01)
    dots = [sorted(area.area for area in each.marks()) for each in areas]
    assert dots[1][0] == pytest.approx(np.pi * 2.03**2, rel=1e-3)
    assert areas[0].area("weeding").equals_exact(areas[1].area("weeding"), 1e-6)
