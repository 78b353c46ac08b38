"""A Build that keeps what it may is the Build made from nothing, whichever choice has changed."""

import pytest

from core.build import Look, build, build_by
from core.cancel import NEVER, CancelToken
from core.errors import Cancelled
from core.job.choice import Stage
from core.job.job import CHOICES
from core.keep import Keeper
from core.kit.kit import KitNames
from core.kit.make import job_name, written_of
from tests.support.pictures import badge, job

#: Another allowed value for every choice; a new choice has to be named here.
OTHERS = {
    "picture.corners": "20,10; 290,14; 280,290; 12,280",
    "picture.paper": "A5",
    "picture.level": "3 deg",
    "picture.crop": "30,20; 290,280",
    "picture.light": "as it is",
    "picture.pixels": "all",
    "picture.colours": "3",
    "picture.palette": "#ffffff; #2c6e91",
    "picture.merged": "#2c6e91 #e9c46a",
    "picture.transfer": "linear light",
    "picture.ground": "#ffffff",
    "picture.touches": "rub 130,170 8; bridge 200,60 250,60 10",
    "shape.height": "45 mm",
    "shape.colours": "#e9c46a film sun",
    "shape.patches": "150,160 bare",
    "shape.smallest": "20 mm2",
    "shape.corners": "round 186,102 2 mm",
    "shape.regular": "level; radii; mirror",
    "shape.pieces": "based",
    "shape.bridge_width": "6 mm",
    "shape.bridge_foot": "1 mm",
    "shape.base_margin": "7 mm",
    "part.hold": "skin",
    "part.skin": "0.6 mm",
    "part.tabs": "150,37; 60,150; 245,200; 150,262",
    "part.entries": "220,150",
    "part.tab_neck": "4 mm",
    "part.tab_height": "1 mm",
    "part.tab_spacing": "30 mm",
    "part.tab_count": "6",
    "part.hanger": "auto",
    "part.hanger_hole": "3 mm",
    "film.made_of": "whole face",
    "film.rim": "dropped",
    "film.rim_width": "9 mm",
    "film.stencils": "teal",
    "film.stencil_islands": "bridged",
    "film.stencil_bridge": "3 mm",
    "film.inset": "1.5 mm",
    "film.overlap": "0 mm",
    "film.smallest_piece": "400 mm2",
    "film.dropped": "138,174",
    "film.small_pieces": "left out",
    "film.joined": "138,174",
    "film.bridge": "2 mm",
    "film.small_openings": "filled",
    "film.filled": "138,174",
    "film.stroke": "1 mm",
    "film.gap": "1 mm",
    "film.most_moved": "0.3 mm",
    "film.tips": "186,102 0.2 mm",
    "film.corner_radius": "1 mm",
    "film.order": "teal; burlywood",
    "film.lettering": "moved",
    "film.side": "behind",
    "film.weed_lines": "40 mm; 61.5 mm",
    "film.match": "outline",
    "film.pairs": "60,60 = 70,60; 240,60 = 250,60; 150,240 = 160,240",
    "film.picture_colours": "3",
    "film.picture_ground": "#e9c46a",
    "film.colours": "#e9c46a film sun",
    "film.patches": "150,160 bare",
    "fit.way": "sheet",
    "fit.marks": "10,120; 12,15; 95,20",
    "fit.readings": "10,20; 20,30",
    "fit.eye": "0.1 mm",
    "fit.scale_doubt": "0.05 %",
    "fit.skew_doubt": "0 %",
    "machine.scale_doubt": "0.03 %",
    "machine.skew_doubt": "0.04 %",
    "machine.gauged": "2026-03-31",
    "knife.scale_doubt": "0.05 %",
    "knife.skew_doubt": "0.05 %",
    "knife.gauged": "2026-03-31",
    "fit.hole": "6 mm",
    "fit.key": "8 mm",
    "fit.dot": "3 mm",
    "fit.key_dot": "5 mm",
    "fit.breaks": "no",
    "fit.hinge": "30 mm",
    "fit.board": "7 mm",
    "fit.board_material": "plywood",
    "stock.material": "opaque cast acrylic",
    "stock.thickness": "2.8 mm; 3 mm",
    "stock.width": "150 mm",
    "stock.depth": "160 mm",
    "stock.board": "3 mm",
    "stock.board_error": "0.2 mm",
    "stock.masking_top": "0.2 mm",
    "stock.masking_bottom": "0 mm",
    "stock.zero_at": "10,20",
    "stock.zero_on": "part middle",
    "stock.z_zero": "board",
    "stock.touch": "0.1 mm",
    "stock.copies": "3",
    "stock.nesting": "tight",
    "stock.clamps": "4,4 box 6x6 high 12; 80,4 round 6 high 30",
    "bit.diameter": "1.5 mm",
    "bit.flutes": "2",
    "bit.flute_length": "8 mm",
    "bit.stick_out": "30 mm",
    "cutting.speed": "12000 rpm",
    "cutting.feed": "350 mm/min",
    "cutting.plunge": "60 mm/min",
    "cutting.depth": "0.5 mm",
    "cutting.ramp": "2 deg",
    "cutting.skim": "0.2 mm",
    "cutting.safe_height": "8 mm",
    "cutting.air_cut": "20 mm",
    "cutting.rough": "conventional",
    "cutting.last_lap": "no",
    "cutting.allowance": "0.3 mm",
    "cutting.bits": "2.5 mm; 0.8 mm",
    "machine.travel_x": "90 mm",
    "machine.travel_y": "90 mm",
    "machine.travel_z": "6 mm",
    "machine.nut": "16 mm",
    "machine.nut_length": "12 mm",
    "machine.nose": "42 mm",
    "machine.top_feed": "300 mm/min",
    "machine.acceleration": "100 mm/s2",
    "machine.acceleration_z": "50 mm/s2",
    "machine.corner_deviation": "0.02 mm",
    "machine.spindle": "knob",
    "machine.spin_up": "9 s",
    "machine.spindle_slowest": "8000 rpm",
    "machine.spindle_fastest": "24000 rpm",
    "machine.dwell_unit": "ms",
    "machine.arcs": "no",
    "machine.width": "0.1 mm",
    "knife.width": "0.05 mm",
    "machine.scale_x": "100.3 %",
    "machine.scale_y": "99.8 %",
    "machine.skew": "0.1 deg",
    "knife.scale_x": "100.3 %",
    "knife.scale_y": "99.8 %",
    "knife.skew": "-0.1 deg",
    "film.stock_width": "40 mm",
    "film.stock_length": "50 mm",
    "film.roller_margin": "5 mm",
    "film.strips": "20 mm",
    "knife.plot": "no",
    "knife.witness": "no",
    "knife.density": "90",
    "knife.compensated": "yes",
    "knife.offset": "0.4 mm",
    "knife.overcut": "0.5 mm",
    "machine.units": "inch",
    "machine.ending": "M30",
    "machine.extension": "ngc",
    "machine.decimals": "5",
    "machine.chords": "0.004 mm",
    "machine.line_length": "100",
    "machine.line_ends": "CRLF",
    "machine.line_numbers": "yes",
    "machine.per_cent": "yes",
    "machine.comments": "no",
    "files.name": "sign",
    "files.paper": "Letter",
}


def written(made):
    """Every byte that follows from a Build before the proof, and what it says."""
    files = written_of(made, KitNames(job_name(made.job, made.source), made.shape.size_mm[1])).files()
    return [(file.path, file.data) for file in files], made.findings


@pytest.fixture(scope="module")
def first():
    return build(job(), badge())


def test_every_choice_is_tried():
    assert set(OTHERS) == set(CHOICES)


@pytest.mark.parametrize("key", [key for key in OTHERS if key != "fit.way"])
def test_what_is_kept_is_what_would_be_made(first, key):
    changed = job().with_choice(key, OTHERS[key])
    kept = written(build(changed, badge(), first))
    made = written(build(changed, badge()))
    assert kept == made


#: Choices that matter to a nest board, or to what it stands on.
OF_NEST = ("bit.diameter", "bit.flutes", "cutting.speed", "cutting.rough", "fit.board", "fit.board_material")
OF_NEST += (
    "fit.hole",
    "machine.scale_x",
    "machine.spin_up",
    "machine.top_feed",
    "part.tab_neck",
    "stock.copies",
)
OF_NEST += ("shape.height", "stock.thickness")


@pytest.fixture(scope="module")
def nested():
    return build(job(fit__way="nest"), badge())


@pytest.mark.parametrize("key", OF_NEST)
def test_what_is_kept_of_a_nest_is_what_would_be_made(nested, key):
    changed = nested.job.with_choice(key, OTHERS[key])
    assert written(build(changed, badge(), nested)) == written(build(changed, badge()))


@pytest.mark.parametrize("key", ["bit.diameter", "part.tab_neck", "stock.copies", "shape.height", "fit.eye"])
def test_what_is_kept_of_sight_edges_is_what_would_be_made(key):
    before = build(job(fit__way="edge"), badge())
    changed = before.job.with_choice(key, OTHERS[key])
    assert written(build(changed, badge(), before)) == written(build(changed, badge()))


def test_a_new_height_is_traced_no_more(first):
    told = []
    build(job(shape__height="70 mm"), badge(), first, tell=told.append)
    assert told == ["shape", "pieces", "hanger", "reach", "sheet", "found", "path", "films", "forecast"]


def test_a_tab_that_was_moved_plans_the_path_and_nothing_else(first):
    told = []
    build(job(part__tab_neck="4 mm"), badge(), first, tell=told.append)
    assert told == ["path"]


def test_a_build_that_is_no_longer_wanted_is_given_up_between_two_stages():
    answers = iter([False, False, False, True])
    with pytest.raises(Cancelled):
        build(job(), badge(), token=CancelToken(lambda: next(answers, True)))


def test_a_first_look_has_the_faces_of_the_exact_one_and_is_never_taken_for_it():
    wanted, source = job(), badge()
    first = build_by(Keeper(NEVER, wanted.woken_by), wanted, source, Look.FIRST)
    exact = build(wanted, source, first)
    assert first.look is Look.FIRST
    assert exact.look is Look.EXACT
    assert exact.picture is first.picture
    assert [face.colour for face in first.traced.faces] == [face.colour for face in exact.traced.faces]
    assert exact.traced is not first.traced
    assert exact.shape.size_mm == pytest.approx(first.shape.size_mm, rel=1e-3)


def test_a_first_look_at_a_picture_that_was_traced_is_the_exact_one(first):
    wanted = first.job.with_choice("shape.height", "45 mm")
    keeper = Keeper(NEVER, wanted.woken_by, first.kept)
    again = build_by(keeper, wanted, first.source, Look.FIRST)
    assert again.look is Look.EXACT
    assert again.traced is first.traced


def test_what_was_finished_before_a_build_was_given_up_is_kept():
    wanted, source, made = job(), badge(), []
    keeper = Keeper(CancelToken(lambda: Stage.TRACE in keeper.kept), wanted.woken_by, tell=made.append)
    with pytest.raises(Cancelled):
        build_by(keeper, wanted, source)
    assert made[-1] == Stage.TRACE
    again = Keeper(NEVER, wanted.woken_by, keeper.kept, made.append)
    build_by(again, wanted, source)
    assert made.count(Stage.TRACE) == 1
