"""What hardly any router can cut: a stop that says why, or a program that does its work."""

from dataclasses import replace

import pytest
import shapely

from core.errors import BadValue
from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.bit import Bit
from core.router.reach import as_cut
from core.sheet.clamp import Clamp
from core.sheet.lay_out import lay_out
from core.sheet.rule import FitRule
from core.sheet.wish import StockWish
from tests.core.router.sheet_after import (
    BIT,
    CUTTING,
    MACHINE,
    TABS,
    circle_part,
    left_at,
    planned,
    rectangle,
    sheet,
)

BED = -3.0
PLATE = (Region(rectangle(30, 30, 110, 130)),)
BARE = sheet(marks=())


def stops(findings):
    return {found.code for found in findings if found.level is Level.STOP}


def told(part, bit=BIT, **options):
    """The stops of reach and plan together, each with a sentence and a remedy."""
    found = as_cut(part, bit).findings
    _, made = planned(part, bit=bit, **({"layout": BARE} | options))
    every = (*found, *made.findings)
    assert all(one.text.endswith(".") and one.remedy for one in every if one.level is Level.STOP)
    return stops(every)


def loose(made, bit=BIT, layout=BARE):
    """Pieces at the stock's bottom besides the frame."""
    stands = shapely.get_parts(left_at(made.toolpath, BED - 1e-7, layout, bit.radius_mm))
    return len([piece for piece in stands if piece.area > 0.06]) - 1


def test_thirty_loose_pieces_hang_on_tabs_of_their_own():
    part = tuple(
        region for x in range(6) for y in range(5) for region in circle_part((20 + 20 * x, 20 + 20 * y), 6.5)
    )
    assert told(part, tabs=replace(TABS, neck_mm=1.5)) == set()
    _, made = planned(part, tabs=replace(TABS, neck_mm=1.5), layout=BARE)
    assert len(made.tabs) >= 30 * 4
    assert loose(made) == 0


def test_thirty_pieces_too_small_for_tabs_are_a_stop():
    part = tuple(
        region for x in range(6) for y in range(5) for region in circle_part((20 + 20 * x, 20 + 20 * y), 1.0)
    )
    assert told(part) == {"no-room-for-tabs"}


def test_thirty_pieces_closer_than_the_bit_are_a_stop():
    part = tuple(region for x in range(30) for region in circle_part((20 + 4 * (x % 25), 20 + x), 1.9))
    assert "parts-too-close" in told(part)


def test_lines_thinner_than_the_bit_all_over_leave_gaps_that_it_does_not_fit():
    bars = [shapely.box(30, 30 + 1.4 * n, 100, 30.5 + 1.4 * n) for n in range(20)]
    whole = shapely.union_all([*bars, shapely.box(30, 30, 31, 58), shapely.box(99, 30, 100, 58)])
    (region,) = shapely.get_parts(whole)
    holes = tuple(
        Loop(shapely.get_coordinates(ring)[:-1], [0.0] * (len(ring.coords) - 1)) for ring in region.interiors
    )
    outer = Loop(shapely.get_coordinates(region.exterior)[:-1], [0.0] * (len(region.exterior.coords) - 1))
    openings = tuple(hole if hole.signed_area() < 0 else hole.reversed() for hole in holes)
    part = (Region(outer if outer.signed_area() > 0 else outer.reversed(), openings),)
    assert "bit-too-wide" in told(part)


def test_a_plate_that_is_mostly_holes_is_cut_hole_by_hole_before_its_edge():
    holes = tuple(Loop.circle((36 + 6 * x, 36 + 6 * y), 2.2).reversed() for x in range(12) for y in range(12))
    part = (Region(rectangle(30, 30, 110, 130), holes),)
    assert told(part) == set()
    _, made = planned(part, layout=BARE)
    assert loose(made) == 0
    names = [name.name for name in made.toolpath.names]
    assert names.index("edge") > max(index for index, name in enumerate(names) if name.startswith("opening"))


def test_a_bit_wider_than_every_gap_is_a_stop_for_each_of_them():
    holes = (Loop.circle((50, 50), 0.9), rectangle(60, 60, 61.5, 100), Loop.circle((90, 90), 1.0))
    part = (Region(rectangle(30, 30, 110, 130), tuple(hole.reversed() for hole in holes)),)
    found = [one for one in as_cut(part, BIT).findings if one.code == "bit-too-wide"]
    assert [one.level for one in found].count(Level.STOP) == 3


def test_a_sheet_without_thickness_is_refused_in_a_sentence():
    wish = StockWish(None, None, 0.0, 0.0, 0.1, 0.1, is_clear=True)
    with pytest.raises(BadValue, match="thicker than 0"):
        lay_out(PLATE, wish, FitRule(), bit_mm=2.0, travel_mm=(300.0, 200.0))


@pytest.mark.parametrize("neck", [30.0, 80.0, 500.0])
def test_a_tab_longer_than_the_edge_is_a_stop(neck):
    assert told(circle_part((70, 75), 6.0), tabs=replace(TABS, neck_mm=neck)) == {"no-room-for-tabs"}


def test_clamps_over_the_part_are_a_stop():
    over = replace(BARE, clamps=(Clamp((70.0, 80.0), (150.0, 30.0), 12.0),))
    assert "clamp-in-the-way" in told(PLATE, layout=over)


def test_a_flute_shorter_than_the_stock_is_a_stop():
    assert told(PLATE, bit=Bit(2.0, 1, 2.5)) == {"flute-too-short"}


@pytest.mark.parametrize(
    ("rpm", "codes"),
    [(9_999, {"spindle-out-of-range"}), (10_000, set()), (24_000, set()), (24_001, {"spindle-out-of-range"})],
)
def test_a_speed_that_the_spindle_does_not_have_is_a_stop(rpm, codes):
    machine = replace(MACHINE, spindle_range_rpm=(10_000.0, 24_000.0))
    assert told(PLATE, cutting=replace(CUTTING, spindle_rpm=float(rpm)), machine=machine) == codes


def test_a_tab_set_by_hand_before_nothing_and_two_in_one_place_are_stops():
    tight = (
        Region(rectangle(30, 30, 70, 70), (rectangle(40, 40, 60, 60).reversed(),)),
        Region(rectangle(42.5, 42.5, 57.5, 57.5)),
    )
    assert "nothing-to-hold-on-to" in told(tight)
    by_hand = replace(TABS, placed=((70.0, 30.0), (71.0, 30.0), (30.0, 80.0), (110.0, 80.0)))
    assert "tabs-run-together" in told(PLATE, tabs=by_hand)
