import numpy as np
import pytest
import shapely

from core.findings import Level
from core.proof.edges import edge_distance
from core.proof.layers import NamedLayers
from core.proof.part import judge_edge, left_of, part_drawing_findings
from core.proof.readback import Why
from tests.core.proof.claimed import box, layers

STOCK = shapely.box(0, 0, 60, 40)
OUTLINE = shapely.box(10, 10, 50, 30)
BIT = 2.0


def slot_round(area):
    """What a bit of 2 mm takes that goes round the area."""
    return area.buffer(BIT, quad_segs=200).difference(area)


def test_the_part_is_what_lies_on_the_outline_and_the_frame_is_not():
    left = left_of(STOCK, slot_round(OUTLINE), OUTLINE)
    assert left.equals(OUTLINE)
    assert left_of(STOCK, STOCK, OUTLINE).is_empty


def test_a_core_in_an_opening_is_waste():
    ring = OUTLINE.difference(shapely.box(20, 15, 40, 25))
    inner = shapely.box(20, 15, 40, 25)
    removed = slot_round(OUTLINE).union(inner.difference(inner.buffer(-BIT)))
    assert left_of(STOCK, removed, ring).equals(ring)


def test_an_edge_on_the_outline_is_off_by_nothing():
    edge = judge_edge("part.nc", OUTLINE, OUTLINE, BIT)
    assert edge.edge.max_mm == pytest.approx(0.0, abs=5e-4)  # flatness
    assert (edge.excepted, edge.findings) == ((), ())


@pytest.mark.parametrize(
    "left", [shapely.box(10, 10, 50.02, 30), shapely.box(10.5, 10, 50, 30), shapely.Polygon()]
)
def test_an_edge_that_is_off_the_outline_is_a_stop_that_names_the_program(left):
    (stop,) = judge_edge("part.nc", left, OUTLINE, BIT).findings
    assert (stop.level, stop.code) == (Level.STOP, "edge-differs")
    assert "part.nc" in stop.text


def inside_corner(angle_deg, arm=40.0):
    """A square with a wedge of this angle cut into its side; its tip lies at (30, 20)."""
    half = np.radians(angle_deg) / 2.0
    mouth = arm * np.array([[np.sin(half), np.cos(half)], [-np.sin(half), np.cos(half)]]) + [30, 20]
    return shapely.box(0, 0, 60, 35).difference(shapely.Polygon([(30, 20), *mouth]))


@pytest.mark.parametrize("angle", [60, 90])
def test_an_inside_corner_is_told_as_rounded_where_it_is_and_how_long(angle):
    """A bit of radius r touches the sides of a corner r / tan(half the angle) from its tip (geometry)."""
    outline = inside_corner(angle)
    reach = outline.buffer(1.0, quad_segs=500).buffer(-1.0, quad_segs=500)
    edge = judge_edge("part.nc", reach, outline, BIT)
    assert edge.findings == ()
    (corner,) = edge.excepted
    assert corner.why is Why.ROUNDED
    assert corner.at == pytest.approx((30, 20), abs=0.01)
    assert corner.size_mm == pytest.approx(2 / np.tan(np.radians(angle) / 2), rel=0.2)


def test_the_sharp_corner_itself_is_not_what_the_bit_can_leave():
    assert judge_edge("part.nc", inside_corner(60), inside_corner(60), BIT).findings


def test_an_opening_narrower_than_the_bit_was_not_reached():
    outline = OUTLINE.difference(shapely.Point(30, 20).buffer(0.8))
    edge = judge_edge("part.nc", OUTLINE, outline, BIT)
    assert edge.findings == ()
    assert [stretch.why for stretch in edge.excepted] == [Why.UNREACHED]


def drawing(path="part.dxf", part=(10, 10, 50, 30), as_cut=(10, 10, 50, 30), patch=(10, 10, 20, 30)):
    return NamedLayers(path, layers(part=[box(*part)], as_cut=[box(*as_cut)], patch_sky=[box(*patch)]))


FIRST, FILMS = drawing("part.svg"), ("sky",)
FIRST_OFF = edge_distance(FIRST.layers.area("as-cut"), OUTLINE)


def test_an_as_cut_edge_that_both_drawings_have_wrong_is_a_stop_for_each():
    both = [drawing(name, as_cut=(10, 10, 50.02, 30)) for name in ("part.svg", "part.dxf")]
    off = edge_distance(both[0].layers.area("as-cut"), OUTLINE)
    texts = [one.text for each in both for one in part_drawing_findings(each, both[0], FILMS, OUTLINE, off)]
    assert ["part.svg" in texts[0], "part.dxf" in texts[1], len(texts)] == [True, True, 2]


def test_two_drawings_of_one_part_agree():
    assert part_drawing_findings(drawing(), FIRST, FILMS, OUTLINE, FIRST_OFF) == ()


@pytest.mark.parametrize(
    ("other", "layer"),
    [
        (drawing(part=(10, 10, 50.02, 30)), "part"),
        (drawing(patch=(10, 10, 20.02, 30)), "patch-sky"),
        (drawing(as_cut=(10, 10.02, 50, 30)), "as-cut"),
    ],
)
def test_a_layer_that_differs_is_a_stop_that_names_layer_and_file(other, layer):
    (stop,) = part_drawing_findings(other, FIRST, FILMS, OUTLINE, FIRST_OFF)
    assert (stop.level, stop.code) == (Level.STOP, "drawing-differs")
    assert f"The layer {layer} in part.dxf" in stop.text


@pytest.mark.parametrize("name", ["part.svg", "part.dxf"])
def test_a_drawing_without_the_patch_of_a_film_is_a_stop_also_where_it_is_the_first(name):
    bare = NamedLayers(name, layers(part=[box(10, 10, 50, 30)], as_cut=[box(10, 10, 50, 30)]))
    first = bare if name == FIRST.path else FIRST
    (stop,) = part_drawing_findings(bare, first, FILMS, OUTLINE, FIRST_OFF)
    assert (stop.level, stop.code) == (Level.STOP, "layer-missing")
    assert f"{name} has nothing on its layer patch-sky" in stop.text
