"""Where everything lies: the smallest sheet that takes part, marks, frame and hinge, and their places.

1. Sizes are tried from small to large, one only where the maker gave it; on each, every side for the
   hinge and a few places of the part, with the key mark at the upper left before anywhere else.
2. The first size on which a proven pattern of marks stands is taken, there the setting that weighs least.
3. What the maker's own sheet cannot take is laid out on the sheet it would need, with a stop that says
   how much is missing. A hinge strip alone that does not fit is a caution.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from core.errors import BadValue
from core.findings import Finding, Level, Point, has_stop
from core.outline.loop import Bounds
from core.outline.region import Regions, mapped
from core.sheet.arranged import Sheet, arrangements, most_that_fit
from core.sheet.board import Board, board_findings
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.mark_ground import MarkGround, Solid, mark_ground
from core.sheet.mark_room import MarkRoom
from core.sheet.obstacles import Obstacles
from core.sheet.pattern import Candidates, Pattern, candidates, find_pattern, with_fourth
from core.sheet.placed_marks import check_marks, unused, with_marks
from core.sheet.placement import Placement, box_of
from core.sheet.rule import FOURTH_MARK_ABOVE_MM, GRID_MM, Clearances, FitRule, FitWay
from core.sheet.setting import Setting, settings
from core.sheet.travel import board_travel_findings, travel_findings
from core.sheet.wish import StockWish
from core.sheet.zero import zero_of

#: mm; offcuts are told by whole centimetres.
SIZE_STEP_MM = 10.0
#: How many steps a side may grow for the marks' sake before the search gives up.
MOST_STEPS = 10
#: Ways to lay several copies that are tried; numbers below the most copies that are tried for what fits.
MOST_WAYS, MOST_FEWER = 4, 6
#: Places of the part tried along each side of the stock where clamps stand on it.
PLACES_AMONG_CLAMPS = 5

Size = tuple[float, float]


@dataclass(frozen=True)
class _Found:
    """A setting with its marks."""

    setting: Setting
    pattern: Pattern


def lay_out(
    as_cut: Regions,
    wish: StockWish,
    rule: FitRule,
    *,
    bit_mm: float,
    travel_mm: tuple[float, float],
    zero_at: Point = (0.0, 0.0),
) -> Layout:
    """as_cut in the shape's coordinates, at least one Region; zero_at in the frame, mm.

    Raises BadValue for a zero or a mark off the 0.5 mm grid and for a sheet that has no thickness.
    """
    _check(wish, zero_at)
    check_marks(wish.marks)
    clearances = Clearances(rule, bit_mm, wish.thickness_mm)
    solid = Solid.of(as_cut, clearances)
    sheet = Sheet(solid.area, solid.box, wish, clearances, travel_mm)
    layout = _best(sheet, solid, wish.copies.count, zero_at)
    if wish.copies.count > 1 and has_stop(layout.findings):
        layout = replace(layout, findings=(*layout.findings, _too_many(sheet, solid, zero_at)))
    return _marked_by_hand(layout, as_cut, sheet) if wish.marks else layout


def _marked_by_hand(layout: Layout, as_cut: Regions, sheet: Sheet) -> Layout:
    """The proposed layout with the maker's marks: what lies where does not hang on how good they are."""
    wish, rule = sheet.wish, sheet.clearances.rule
    if rule.way is FitWay.EDGE:
        return replace(layout, findings=(*layout.findings, unused()))
    placed = mapped(as_cut, lambda loop: loop.moved(*layout.shape_at))
    room = MarkRoom.on(layout, placed, rule, sheet.clearances.bit_mm)
    marks = tuple(_mark(at, wish, rule, is_key=index == 0) for index, at in enumerate(wish.marks))
    box = box_of(_moved(sheet.box, layout.shape_at), layout.copies)
    return replace(with_marks(layout, marks, room, box), mirror_x=_mirror_x(box, marks))


def _best(sheet: Sheet, solid: Solid, count: int, zero_at: Point) -> Layout:
    """The first way to lay so many copies without a stop; without one, the most promising way."""
    ways = arrangements(sheet, count, is_tight=sheet.wish.copies.is_tight)
    first = None
    for way in ways[:MOST_WAYS]:
        layout = _laid(sheet, solid, way.copies, zero_at)
        if not has_stop(layout.findings):
            return layout
        first = first or layout
    assert first is not None  # noqa: S101 - there is always a way to try
    return first


def _laid(sheet: Sheet, solid: Solid, copies: tuple[Placement, ...], zero_at: Point) -> Layout:
    """One set of marks and a sheet round copies that lie as they do, in the first one's coordinates."""
    wish, clearances = sheet.wish, sheet.clearances
    ground = mark_ground(solid, wish, copies)
    found, problems = _clear_of_clamps(ground, wish, clearances)
    size = _told_size(wish, found.setting)
    shape_at = (-found.setting.left + 0.0, -found.setting.near + 0.0)
    pinned, board, more = _on_board(ground, sheet, shape_at)
    marks = _marks(pinned or found, wish, clearances.rule, shape_at)
    layout = Layout(
        stock=wish.stock(*size),
        shape_at=shape_at,
        marks=marks,
        zero_at=zero_of(wish.zero_on, zero_at, _moved(ground.box, shape_at), size),
        mirror_x=_mirror_x(_moved(ground.box, shape_at), marks),
        hinge_side=str(found.setting.hinge or ""),
        findings=(*problems, *more, *_mark_count_findings(pinned or found)),
        clamps=wish.clamps,
        body=wish.body,
        copies=_in_frame(copies, shape_at),
        board=board,
        hinge_mm=clearances.rule.hinge_mm if found.setting.hinge else 0.0,
    )
    swept = travel_findings(ground.box, layout, clearances.bit_mm, sheet.travel_mm)
    return replace(layout, findings=(*layout.findings, *swept))


def _on_board(
    ground: MarkGround, sheet: Sheet, shape_at: Point
) -> tuple[_Found | None, Board | None, tuple[Finding, ...]]:
    """The smallest board of a nest with a pattern of pins round the parts; nothing where there is no nest."""
    rule = sheet.clearances.rule
    if rule.way is not FitWay.NEST:
        return None, None, ()
    clearances = replace(sheet.clearances, rule=replace(rule, way=FitWay.FRAME), thickness_mm=rule.board_mm)
    free, bare = replace(sheet.wish, width_mm=None, depth_mm=None), replace(ground, obstacles=Obstacles())
    found = _first(_sizes(ground.box, free, clearances), bare, clearances, with_hinge=False)
    missing = () if found else (_no_pattern(),)
    found = found or _without_marks(bare, free, clearances)
    setting = found.setting
    at = (setting.left + shape_at[0], setting.near + shape_at[1])
    board = Board(at, setting.width, setting.depth, rule.board_mm)
    too_far = board_travel_findings(board, sheet.travel_mm)
    return found, board, (*missing, *board_findings(board, sheet.wish.thickness_mm), *too_far)


def _in_frame(copies: tuple[Placement, ...], shape_at: Point) -> tuple[Placement, ...]:
    """What takes the first piece in the frame to each of them."""
    first = Placement(shape_at)
    placed = (
        Placement((copy.at[0] + shape_at[0], copy.at[1] + shape_at[1]), copy.is_turned) for copy in copies
    )
    return tuple(copy.after(first) for copy in placed)


def _too_many(sheet: Sheet, solid: Solid, zero_at: Point) -> Finding:
    """How many of the copies asked for there is room for."""
    asked = sheet.wish.copies
    most = min(most_that_fit(sheet, asked), asked.count - 1)
    for count in range(most, max(most - MOST_FEWER, 0), -1):
        if not has_stop(_best(sheet, solid, count, zero_at).findings):
            return _copies_finding(asked.count, count)
    return _copies_finding(asked.count, 0)


def _copies_finding(asked: int, fit: int) -> Finding:
    told = f"only {fit} fit" if fit else "far fewer fit"
    return Finding(
        Level.STOP,
        "copies-do-not-fit",
        f"Of {asked} copies {told} this sheet and machine.",
        "Ask for fewer copies, nest them tightly, or take a larger sheet.",
    )


def _check(wish: StockWish, zero_at: Point) -> None:
    if not wish.thickness_mm > 0.0:
        raise BadValue(f"A sheet is thicker than 0, not {wish.thickness_mm:g} mm; measure it again.")
    if any(abs(value / GRID_MM - round(value / GRID_MM)) > 1e-9 for value in zero_at):
        raise BadValue(f"The work zero stands on a grid of {GRID_MM} mm, so that every file can say it.")


def _told_size(wish: StockWish, setting: Setting) -> Size:
    width = setting.width if wish.width_mm is None else wish.width_mm
    depth = setting.depth if wish.depth_mm is None else wish.depth_mm
    return width, depth


def _moved(box: Bounds, by: Point) -> Bounds:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]


def _clear_of_clamps(
    ground: MarkGround, wish: StockWish, clearances: Clearances
) -> tuple[_Found, tuple[Finding, ...]]:
    """The best layout clear of all clamps; where there is none, one that ignores them.

    The path of the bit is then swept against them, which says how much is missing, and where.
    """
    found = _first(_sizes(ground.box, wish, clearances), ground, clearances)
    if found is not None or not wish.clamps:
        return _search(found, ground, wish, clearances)
    bare = replace(ground, obstacles=Obstacles())
    return _search(_first(_sizes(ground.box, wish, clearances), bare, clearances), bare, wish, clearances)


def _search(
    found: _Found | None, ground: MarkGround, wish: StockWish, clearances: Clearances
) -> tuple[_Found, tuple[Finding, ...]]:
    """What was found on the sheet asked for, or else on the one it would need, and what is to be said."""
    if found is not None:
        return found, ()
    free = replace(wish, width_mm=None, depth_mm=None)
    needed = _first(_sizes(ground.box, free, clearances), ground, clearances)
    if needed is None:
        return _without_marks(ground, free, clearances), (_no_pattern(),)
    missing = _missing(wish, needed.setting)
    if missing == (0.0, 0.0):
        return _spread_out(needed, wish), ()
    unhinged = _first(_sizes(ground.box, wish, clearances), ground, clearances, with_hinge=False)
    if unhinged is not None:
        return unhinged, (_no_hinge(clearances),)
    return needed, (_too_small(wish, needed.setting, missing),)


def _sizes(box: Bounds, wish: StockWish, clearances: Clearances) -> list[Size]:
    """From the smallest area up; a side that the maker gave has one length."""
    widths = _lengths(box[2] - box[0], wish.width_mm, clearances)
    depths = _lengths(box[3] - box[1], wish.depth_mm, clearances)
    return sorted(product(widths, depths), key=lambda size: (size[0] * size[1], sum(size), size))


def _lengths(part: float, told: float | None, clearances: Clearances) -> list[float]:
    if told is not None:
        return [told]
    least = np.ceil((part + 2.0 * clearances.frame()) / SIZE_STEP_MM - 1e-9)
    return [float((least + step) * SIZE_STEP_MM) for step in range(MOST_STEPS + 1)]


def _first(
    sizes: Iterable[Size], ground: MarkGround, clearances: Clearances, *, with_hinge: bool = True
) -> _Found | None:
    """The lightest setting of the first size that takes a pattern, the key at the upper left where it can."""
    places = PLACES_AMONG_CLAMPS if ground.obstacles.clamps else 2
    has_marks = clearances.rule.marks_the_sheet
    for size in sizes:
        clear = [
            setting
            for setting in settings(
                size, ground.box, clearances, with_hinge=with_hinge and has_marks, places=places
            )
            if ground.obstacles.are_clear(setting, clearances)
        ]
        if clear and not has_marks:
            return _Found(clear[0], Pattern(np.empty((0, 2)), 0.0))
        tried = [candidates(ground, setting, clearances) for setting in clear]
        for key_upper_left in (True, False):
            found = list(_found_in(tried, ground, clearances, key_upper_left=key_upper_left))
            if found:
                return min(found, key=lambda one: one.pattern.weight)
    return None


def _found_in(
    tried: list[Candidates], ground: MarkGround, clearances: Clearances, *, key_upper_left: bool
) -> Iterator[_Found]:
    for among in tried:
        pattern = find_pattern(among, ground, clearances, key_upper_left=key_upper_left)
        if pattern is not None and max(among.setting.size) > FOURTH_MARK_ABOVE_MM:
            pattern = with_fourth(pattern, ground, among.setting, clearances) or pattern
        if pattern is not None:
            yield _Found(among.setting, pattern)


def _missing(wish: StockWish, needed: Setting) -> Size:
    width = 0.0 if wish.width_mm is None else max(0.0, needed.width - wish.width_mm)
    depth = 0.0 if wish.depth_mm is None else max(0.0, needed.depth - wish.depth_mm)
    return width, depth


def _spread_out(needed: _Found, wish: StockWish) -> _Found:
    """The layout of a smaller sheet on a larger one: every distance to an edge only grows."""
    width, depth = _told_size(wish, needed.setting)
    return _Found(replace(needed.setting, width=width, depth=depth), needed.pattern)


def _without_marks(ground: MarkGround, wish: StockWish, clearances: Clearances) -> _Found:
    """The part alone on the largest size tried, so that there is something to look at."""
    size = _sizes(ground.box, wish, clearances)[-1]
    setting = next(settings(size, ground.box, clearances))
    return _Found(setting, Pattern(np.empty((0, 2)), np.inf))


def _marks(found: _Found, wish: StockWish, rule: FitRule, shape_at: Point) -> tuple[Mark, ...]:
    """The key first; shape's coordinates become the frame's."""
    places = (found.pattern.places + np.array(shape_at)).tolist()
    return tuple(_mark((x, y), wish, rule, is_key=index == 0) for index, (x, y) in enumerate(places))


def _mark(at: Point, wish: StockWish, rule: FitRule, *, is_key: bool) -> Mark:
    film = rule.film_diameter(is_key=is_key, is_clear=wish.is_clear)
    if rule.is_film_first:
        return Mark(at, film, film, is_key, "film", "jog")
    if rule.way is FitWay.NEST:
        return Mark(at, rule.hole_mm, rule.ring_mm, is_key, "blind", "punch")
    seen = "look-through" if wish.is_clear else "punch"
    return Mark(at, rule.bore(is_key=is_key), film, is_key, "hole", seen)


def _mirror_x(box: Bounds, marks: tuple[Mark, ...]) -> float:
    """The middle of what is used of the sheet's width, on the grid; all in the frame."""
    left = min([box[0], *(mark.at[0] for mark in marks)])
    right = max([box[2], *(mark.at[0] for mark in marks)])
    return float(np.floor((left + right) / 2.0 / GRID_MM + 0.5) * GRID_MM)


def _too_small(wish: StockWish, needed: Setting, missing: Size) -> Finding:
    told = " and ".join(
        f"{length:.1f} mm of {name}"
        for length, name in zip(missing, ("width", "depth"), strict=True)
        if length > 0.0
    )
    width, depth = _told_size(wish, needed)
    return Finding(
        Level.STOP,
        "stock-too-small",
        f"The sheet of {width:g} x {depth:g} mm cannot take part, marks and frame: {told} missing.",
        f"Take a sheet of at least {needed.width:g} x {needed.depth:g} mm, or make the shape smaller.",
    )


def _no_hinge(clearances: Clearances) -> Finding:
    return Finding(
        Level.CAUTION,
        "hinge-too-narrow",
        f"No side of this sheet keeps {clearances.rule.hinge_mm:g} mm free of part and marks for the hinge.",
        "Take a larger sheet, or tape the film on without a hinge.",
    )


def _no_pattern() -> Finding:
    return Finding(
        Level.STOP,
        "no-mark-pattern",
        "No three marks were found round this shape that tell a film laid wrong.",
        "Make the shape larger, or bring film and part together in another way.",
    )


def _mark_count_findings(found: _Found) -> tuple[Finding, ...]:
    if max(found.setting.size) <= FOURTH_MARK_ABOVE_MM or len(found.pattern.places) != 3:
        return ()
    finding = Finding(
        Level.CAUTION,
        "no-fourth-mark",
        f"A sheet over {FOURTH_MARK_ABOVE_MM:g} mm is better with four marks, and only three found a place.",
        "Take a larger sheet, or rub the film down from the middle with care.",
    )
    return (finding,)
