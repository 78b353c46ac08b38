"""A slanted sheet through the whole Build: size, places that a hand set, findings."""

import io

import numpy as np
import pytest
from PIL import Image

from core.build import build
from core.job.job import Job, Source
from core.patches.face_at import face_at
from tests.support import drawn as d
from tests.support.slanted import photographed

SLANT = np.radians([15.0, 20.0, 6.0])
SHAPE = d.shapes(300)[3]
#: The middle of the slot in the plate, on the sheet, px down from its top left corner.
SLOT = (150.317, 150.183)


@pytest.fixture(scope="module")
def photograph():
    return photographed(SHAPE, d.BLACK_ON_WHITE, *SLANT)


@pytest.fixture(scope="module")
def source(photograph):
    out = io.BytesIO()
    Image.fromarray((photograph.pixels * 255).round().astype(np.uint8)).save(out, "PNG")
    return Source("sheet.png", out.getvalue())


def codes(made):
    return {finding.code for finding in made.findings}


@pytest.fixture(scope="module")
def drawn_size(source):
    return build(Job(source="sheet.png").with_choice("picture.paper", "120 x 120 mm"), source)


def test_a_known_paper_gives_the_shape_the_size_it_was_drawn_at(drawn_size):
    truth = np.vstack([ring.segments().corners(0.01) for ring in SHAPE.patches[0].rings])
    height = float(np.ptp(truth[:, 1])) * 120.0 / SHAPE.height
    assert drawn_size.shape.size_mm[1] == pytest.approx(height, abs=0.01)
    assert drawn_size.height_mm == drawn_size.shape.size_mm[1]
    assert {"sheet-squared", "height-from-paper"} <= codes(drawn_size)
    assert "height-assumed" not in codes(drawn_size)


def test_a_height_that_was_asked_for_leads_all_the_same(source, drawn_size):
    asked = build(drawn_size.job.with_choice("shape.height", "70 mm"), source, drawn_size)
    assert asked.height_mm == pytest.approx(70.0)
    assert not {"height-from-paper", "height-assumed"} & codes(asked)


def test_a_place_of_the_photograph_lies_where_it_is_seen_in_the_frame(photograph, drawn_size):
    made, slot = drawn_size, photograph.onto.of(SLOT)
    assert made.place.back(made.place.of(slot)) == pytest.approx(slot, abs=1e-9)
    outline = made.shape.outline.mapped(1.0, made.layout.shape_at)
    inside = [made.place.back(face.inside) for face in outline.faces[1:]]
    assert face_at(outline, made.place.of(slot)) > 0
    seen = [photograph.pixels[int(y), int(x)].mean() for x, y in inside]
    told = [made.colours.palette[face.colour].mean() for face in outline.faces[1:]]
    assert seen == pytest.approx(told, abs=0.01)


def test_a_role_pressed_on_the_photograph_is_that_of_the_patch_there(photograph, source, drawn_size):
    x, y = photograph.onto.of(SLOT)
    made = build(drawn_size.job.with_choice("shape.patches", f"{x:.2f},{y:.2f} through"), source, drawn_size)
    assert len(drawn_size.part[0].openings) == 0
    assert len(made.part[0].openings) == 1


def test_a_tab_stays_at_its_place_of_the_photograph_when_the_sheet_is_squared(photograph, source):
    x, y = photograph.onto.of((150.0, 245.0))  # below the plate's lower edge
    job = Job(source="sheet.png").with_choice("part.tabs", f"{x:.2f},{y:.2f}")
    made = build(job, source)
    seen = made.place.back(made.path.tabs[0].at)
    assert seen == pytest.approx((x, y), abs=12.0)


def test_corners_placed_by_hand_give_the_shape_that_corners_found_give(photograph, source):
    corners = "; ".join(f"{x:.3f},{y:.3f}" for x, y in photograph.corners.tolist())
    by_hand = build(Job(source="sheet.png").with_choice("picture.corners", corners), source)
    found = build(Job(source="sheet.png"), source)
    assert "sheet-squared" not in codes(by_hand)
    assert by_hand.shape.size_mm == pytest.approx(found.shape.size_mm, abs=0.01)
