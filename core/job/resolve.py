"""From the Job to what each room takes: plain values in mm, every `auto` resolved.

Rooms do not know the Job; whatever a stage sees of it passes through here.
"""

from dataclasses import dataclass, replace
from math import fsum, hypot, sqrt

from core.decal.edits import Edits
from core.decal.face import TipWish
from core.decal.film_piece import FilmStock
from core.decal.films import FilmWish
from core.decal.fine import FineWish
from core.decal.islands import IslandWish
from core.decal.knife import Knife
from core.decal.laying import WIDEST_BEHIND_MM, Laying
from core.decal.left_out import LeftOut
from core.decal.rim import Rim, RimWish
from core.decal.sheet_box import SheetBox
from core.decal.stencil import StencilWish
from core.decal.weed_lines import even_heights, on_grid
from core.film_sources import MadeOf
from core.findings import Finding, Level, Point
from core.job.choice import AUTO, Auto
from core.job.job import Job
from core.job.wish import RoleOfColour, RoleOfPatch
from core.patches.colour_names import Rgb, rgb_of
from core.patches.hanger import HangerWish
from core.patches.patches import ColourRole, RoleWishes, SinglePatchRole
from core.patches.pieces import Pieces, PiecesWish
from core.patches.shape import Size
from core.picture.colours import ColourWish
from core.picture.paper_size import PaperSize
from core.picture.plane import AS_IT_IS, Plane
from core.picture.square import Squared, SquareWish
from core.regular.rule import Rule
from core.router.bit import Bit
from core.router.board import Board
from core.router.cutting import Cutting, Direction, TabRule
from core.router.machine import Machine
from core.router.starting_values import starting_values
from core.sheet.correction import Correction
from core.sheet.fit_error import Doubts
from core.sheet.material import Material, material_named
from core.sheet.rows import CopiesWish
from core.sheet.rule import FitRule, FitWay
from core.sheet.spindle_body import SpindleBody
from core.sheet.wish import StockWish
from core.touch.edit import Corner
from core.units import Measure

#: mm; nobody asked for it, so a caution says so.
ASSUMED_HEIGHT = 100.0


@dataclass(frozen=True)
class PicturePlace:
    """Where a point of the upright source picture (px, y down) lies in the frame, and the way back.

    plane takes it to the squared picture, picture_height px high, which is then scaled and moved.
    """

    picture_height: int
    scale: float
    shift: Point
    plane: Plane = AS_IT_IS

    def of(self, point: Point) -> Point:
        """The frame's point, mm."""
        x, y = in_traced(point, self.plane, self.picture_height)
        return x * self.scale + self.shift[0], y * self.scale + self.shift[1]

    def back(self, point: Point) -> Point:
        """The picture's point, px right and down from its top left corner."""
        x, y = (point[0] - self.shift[0]) / self.scale, (point[1] - self.shift[1]) / self.scale
        return self.plane.back((x, self.picture_height - y))


def in_traced(point: Point, plane: Plane, picture_height: int) -> Point:
    """A point of the upright source picture in the Outline's px, y up."""
    x, y = plane.of(point)
    return x, picture_height - y


def square_wish(job: Job) -> SquareWish:
    """The sheet's corners and size, and how the picture is levelled and cropped."""
    picture = job.picture
    return SquareWish(
        corners=picture.corners if isinstance(picture.corners, tuple) else None,
        paper=picture.paper if isinstance(picture.paper, PaperSize) else None,
        level=picture.level.value,
        crop=(picture.crop[0], picture.crop[1]) if picture.crop else None,
        is_evened=picture.light == "evened",
    )


def height_foretold(job: Job) -> float | None:
    """The height asked for, mm, else the assumed one; None where a sheet in the picture may tell it."""
    height = job.shape.height
    if isinstance(height, Measure):
        return height.value
    return None if isinstance(job.picture.paper, PaperSize) else ASSUMED_HEIGHT


def size_of(job: Job, squared: Squared) -> Size:
    """The height asked for; else what the paper in the picture says; else the assumed height."""
    height = job.shape.height
    if isinstance(height, Measure):
        return Size(height_mm=height.value)
    return Size(height_mm=ASSUMED_HEIGHT) if squared.px_mm is None else Size(px_mm=squared.px_mm)


def height_findings(job: Job, squared: Squared, height_mm: float) -> tuple[Finding, ...]:
    """A caution when the height was assumed; a note when it is the one that was drawn."""
    if job.shape.height is not AUTO:
        return ()
    if squared.px_mm is not None and isinstance(job.picture.paper, PaperSize):
        text = f"The shape is as high as it is drawn on {job.picture.paper.name}: {height_mm:.2f} mm."
        return (Finding(Level.NOTE, "height-from-paper", text, "Give a height for another size."),)
    if squared.px_mm is not None:
        text = f"The drawing states its size, so it is not scaled: the shape is {height_mm:.2f} mm high."
        return (Finding(Level.NOTE, "height-from-drawing", text, "Give a height for another size."),)
    text = f"No height was given, so the shape is taken to be {ASSUMED_HEIGHT:g} mm high."
    return (Finding(Level.CAUTION, "height-assumed", text, "Give the height of the shape."),)


def colour_wish(job: Job) -> ColourWish:
    """How many colours, and which is the ground; colours by hand, and those that are one."""
    picture = job.picture
    palette = picture.palette if isinstance(picture.palette, tuple) else None
    return replace(
        _colour_wish(picture.colours, picture.ground),
        palette=None if palette is None else tuple(map(_rgb, palette)),
        merged=tuple((_rgb(first), _rgb(second)) for first, second in picture.merged),
    )


def _colour_wish(count: int | Auto, ground: str | Auto) -> ColourWish:
    return ColourWish(
        count if isinstance(count, int) else None, _rgb(ground) if isinstance(ground, str) else None
    )


def corner_edits(job: Job, plane: Plane, picture_height: int) -> tuple[Corner, ...]:
    """Corners to be made sharp or round; points turned to the Outline's px, y up."""
    return tuple(
        replace(
            edit,
            at=in_traced(edit.at, plane, picture_height),
            radius=edit.radius if edit.is_mm else edit.radius * plane.scale_at(edit.at),
        )
        for edit in job.shape.corners
    )


def rules_of(job: Job) -> frozenset[Rule]:
    """What is to be made regular."""
    return frozenset(map(Rule, job.shape.regular))


def pieces_wish(job: Job) -> PiecesWish:
    """What becomes of parts that do not touch."""
    shape = job.shape
    return PiecesWish(
        Pieces(shape.pieces), shape.bridge_width.value, shape.bridge_foot.value, shape.base_margin.value
    )


def hanger_wish(job: Job, in_shape: PicturePlace, thickness_mm: float) -> HangerWish | None:
    """The hole to hang the part by; a point placed on the picture is turned to the shape's coordinates."""
    part = job.part
    if not part.hanger:
        return None
    at = in_shape.of(part.hanger[0]) if isinstance(part.hanger, tuple) else None
    return HangerWish(part.hanger_hole.value, thickness_mm, at)


def role_wishes(job: Job, plane: Plane, picture_height: int) -> RoleWishes:
    """What the maker said of colours and patches; points turned to the Outline's px, y up."""
    return _role_wishes(job.shape.colours, job.shape.patches, plane, picture_height)


def _role_wishes(
    of_colours: tuple[RoleOfColour, ...],
    of_patches: tuple[RoleOfPatch, ...],
    plane: Plane,
    picture_height: int,
) -> RoleWishes:
    colours = tuple(ColourRole(_rgb(wish.colour), wish.role, wish.film) for wish in of_colours)
    patches = tuple(
        SinglePatchRole(
            in_traced(wish.at, plane, picture_height),
            wish.role,
            wish.film,
            _rgb(wish.colour) if wish.colour else None,
        )
        for wish in of_patches
    )
    return RoleWishes(colours, patches)


def second_colour_wish(job: Job) -> ColourWish:
    """How many colours the second picture has, and its ground."""
    return _colour_wish(job.film.picture_colours, job.film.picture_ground)


def second_role_wishes(job: Job, plane: Plane, picture_height: int) -> RoleWishes:
    """What the maker said of the second picture's colours and patches; points in its Outline's px, y up."""
    return _role_wishes(job.film.colours, job.film.patches, plane, picture_height)


def only_silhouette(job: Job) -> bool:
    """Whether the second picture has nothing in common with the first but the outline."""
    return job.film.match == "outline"


def pairs_of(
    job: Job, second: tuple[Plane, int], first: tuple[Plane, int]
) -> tuple[tuple[Point, Point], ...]:
    """Points of the second picture and where they lie on the first, px of both Outlines; none if not by hand.

    Of each picture its map and the height of what is traced, px.
    """
    pairs = job.film.pairs if isinstance(job.film.pairs, tuple) else ()
    return tuple((in_traced(pair.second, *second), in_traced(pair.first, *first)) for pair in pairs)


def _rgb(hexadecimal: str) -> Rgb:
    return rgb_of(hexadecimal.removeprefix("#"))


def bit_of(job: Job) -> Bit:
    """The end mill, as wide as the router was measured to cut with it."""
    bit, out = job.bit, job.bit.stick_out
    measured = out.value if isinstance(out, Measure) else None
    cuts = bit.diameter.value + job.machine.width.value
    return Bit(cuts, bit.flutes, bit.flute_length.value, measured, bit.diameter.value)


def body_of(job: Job) -> SpindleBody:
    """What turns above the bit's tip."""
    machine = job.machine
    return SpindleBody(
        bit_of(job).stick_out_mm, machine.nut.value, machine.nut_length.value, machine.nose.value
    )


def stock_wish(job: Job) -> StockWish:
    """The sheet as it is, or as large as it must be."""
    measured = [place.value for place in job.stock.thickness]
    width, depth = job.stock.width, job.stock.depth
    return StockWish(
        width_mm=width.value if isinstance(width, Measure) else None,
        depth_mm=depth.value if isinstance(depth, Measure) else None,
        thickness_mm=fsum(measured) / len(measured),
        thickness_spread_mm=max(measured) - min(measured),
        masking_top_mm=job.stock.masking_top.value,
        masking_bottom_mm=job.stock.masking_bottom.value,
        is_clear=job.stock.is_clear,
        clamps=job.stock.clamps,
        body=body_of(job),
        zero_on=job.stock.zero_on,
        copies=CopiesWish(job.stock.copies, job.stock.nesting == "tight"),
        marks=job.fit.marks if isinstance(job.fit.marks, tuple) else (),
    )


def fit_rule(job: Job) -> FitRule:
    """How large the marks are, and the strip for the hinge; a loose part asks for no hinge."""
    fit, way = job.fit, FitWay(job.fit.way)
    is_loose = way in {FitWay.EDGE, FitWay.NEST}
    return FitRule(
        hole_mm=fit.hole.value,
        key_mm=fit.key.value,
        dot_mm=fit.dot.value,
        key_dot_mm=fit.key_dot.value,
        ring_mm=fit.hole.value,
        hinge_mm=0.0 if is_loose else fit.hinge.value,
        way=way,
        board_mm=fit.board.value,
    )


#: mm: film that goes on the sheet first stays this far inside, so that the bit never meets it.
FILM_FIRST_INSET = 1.0


def inset_of(job: Job) -> float:
    """How far films stay inside the part's edge, mm; a default follows the way of fitting.

    What the maker said stays, also where it is what the default would be.
    """
    follows = job.fit.way == FitWay.SHEET and job.gives_way("film.inset")
    return FILM_FIRST_INSET if follows else job.film.inset.value


def router_correction(job: Job) -> Correction:
    """What the router's measured errors are made good by."""
    machine = job.machine
    width = machine.width.value
    return Correction(machine.scale_x.value, machine.scale_y.value, machine.skew.value, width)


def cutter_correction(job: Job) -> Correction:
    """What the cutter's measured errors are made good by."""
    knife = job.knife
    return Correction(knife.scale_x.value, knife.scale_y.value, knife.skew.value, knife.width.value)


#: mm that a compensated plot goes on after closing a contour (a cutter manual's default).
OVERCUT = 1.0


def film_wish(job: Job, in_frame: PicturePlace) -> FilmWish:
    """How films lie on the face; what was placed on the picture is turned to the frame."""
    film = job.film
    return FilmWish(
        inset_of(job),
        laying_of(job),
        edits_of(job, in_frame),
        tuple(TipWish(in_frame.of(tip.at), tip.inset_mm) for tip in film.tips),
        film.corner_radius.value,
        RimWish(Rim(film.rim), film.rim_width.value),
        StencilWish(film.stencils, film.stencil_bridge.value if film.stencil_islands == "bridged" else 0.0),
        film.lettering,
    )


def has_film_level_with_tabs(job: Job) -> bool:
    """Whether films lie on the side where tabs stand, while these still hold the part."""
    return job.film.side == "behind" and job.fit.way == FitWay.FRAME and job.part.hold != "skin"


def edits_of(job: Job, in_frame: PicturePlace) -> Edits:
    """What is changed of films by hand; points placed on the picture are turned to the frame."""
    film = job.film
    dropped, joined, filled = (tuple(map(in_frame.of, at)) for at in (film.dropped, film.joined, film.filled))
    return Edits(
        LeftOut(film.smallest_piece.value, dropped, film.small_pieces == "left out"),
        IslandWish(
            joined,
            filled,
            joins_all=film.small_pieces == "joined",
            fills_all=film.small_openings == "filled",
            bridge_mm=film.bridge.value,
        ),
        FineWish(film.stroke.value, film.gap.value, film.most_moved.value),
    )


def made_of(job: Job) -> MadeOf:
    """What of the picture becomes film."""
    return MadeOf(job.film.made_of)


def knife_of(job: Job) -> Knife:
    """What a plot does for the knife; nothing where the cutter does it."""
    knife = job.knife
    overcut = _or(knife.overcut, OVERCUT if knife.compensated else 0.0)
    return Knife(knife.offset.value, knife.compensated, overcut)


def film_stock_of(job: Job) -> FilmStock:
    """The film that is there, and what the cutter's rollers need of it."""
    film = job.film
    width = film.stock_width.value if isinstance(film.stock_width, Measure) else None
    length = film.stock_length.value if isinstance(film.stock_length, Measure) else None
    return FilmStock(width, length, film.roller_margin.value)


#: mm: waste on a sheet box no larger comes away in one, and how wide strips are on a larger one (practice).
LARGEST_UNCUT, STRIP = 200.0, 60.0


def weed_heights_of(job: Job, box: SheetBox) -> tuple[float, ...]:
    """How high weed lines lie in the frame, mm, rising: as placed, else by strips as wide as asked."""
    placed = job.film.weed_lines
    if isinstance(placed, tuple):
        return on_grid([height.value for height in placed])
    strip = _or(job.film.strips, STRIP if max(box.size_mm) > LARGEST_UNCUT else 0.0)
    return even_heights(box.loop, strip) if strip > 0.0 else ()


#: mm in an inch.
INCH = 25.4


def svg_unit_of(job: Job) -> float:
    """How long a bare number of a film's SVG is, mm."""
    return INCH / float(job.knife.density) if job.knife.density.isdigit() else 1.0


def laying_of(job: Job) -> Laying:
    """The order of films, and how far one goes on under another: less behind, where steps show."""
    overlap = job.film.overlap.value
    is_behind = job.film.side == "behind"
    return Laying(min(overlap, WIDEST_BEHIND_MM) if is_behind else overlap, job.film.order)


#: How far the scales of router and cutter usually differ, and their axes from square: 0.2 % and 0.1 % (common
#: practice, no source). Each machine has its share, so that two as usual come to as much.
UNGAUGED_SCALE, UNGAUGED_SKEW = 0.002 / sqrt(2.0), 0.001 / sqrt(2.0)


def doubts_of(job: Job) -> Doubts:
    """How well eye and machines are known: what each may be off adds up as independent errors do."""
    fit, machines = job.fit, (job.machine, job.knife)
    scale = hypot(*(_or(one.scale_doubt, UNGAUGED_SCALE) for one in machines))
    skew = hypot(*(_or(one.skew_doubt, UNGAUGED_SKEW) for one in machines))
    is_gauged = fit.scale_doubt is AUTO and any(one.scale_doubt is not AUTO for one in machines)
    return Doubts(fit.eye.value, _or(fit.scale_doubt, scale), _or(fit.skew_doubt, skew), is_gauged)


#: mm that a cut which opens the frame leaves at the bottom, to be snapped (common practice, no source).
BREAK_LEFT = 1.0


def bits_of(job: Job) -> tuple[float, ...]:
    """The diameters, mm, of the bits at hand."""
    return tuple(bit.value for bit in job.cutting.bits)


def cutting_of(job: Job) -> Cutting:
    """Feeds, depths and directions; what is `auto` comes from the table of starting values."""
    cutting, material = job.cutting, material_named(job.stock.material)
    table = starting_values(material, bit_of(job), cutting.speed.value, job.machine.top_feed.value)
    return Cutting(
        spindle_rpm=cutting.speed.value,
        feed_mm_min=_or(cutting.feed, table.feed_mm_min),
        plunge_mm_min=_or(cutting.plunge, table.plunge_mm_min),
        depth_per_pass_mm=_or(cutting.depth, table.depth_mm),
        ramp_angle=_or(cutting.ramp, table.ramp_angle),
        skim_mm=cutting.skim.value,
        safe_height_mm=cutting.safe_height.value,
        rough=Direction(cutting.rough),
        has_last_lap=cutting.last_lap,
        allowance_mm=allowance_of(job),
        material=material,
        air_cut_mm=cutting.air_cut.value,
        break_left_mm=BREAK_LEFT if job.fit.way == FitWay.FRAME and job.fit.breaks else 0.0,
    )


def board_cutting(job: Job) -> Cutting:
    """How the board of a nest is cut: by the table for what it is made of, in passes, with no last lap."""
    material = material_named(job.fit.board_material)
    speed = job.cutting.speed.value
    table = starting_values(material, bit_of(job), speed, job.machine.top_feed.value)
    return replace(
        cutting_of(job),
        feed_mm_min=table.feed_mm_min,
        plunge_mm_min=table.plunge_mm_min,
        depth_per_pass_mm=table.depth_mm,
        ramp_angle=table.ramp_angle,
        skim_mm=0.0,
        has_last_lap=False,
        allowance_mm=0.0,
        material=material,
        break_left_mm=0.0,
    )


#: The default allowance of a narrow bit, in its diameters: 0.2 mm of a 1 mm one, as of all wider ones.
ALLOWANCE_SHARE = 0.2


def allowance_of(job: Job) -> float:
    """What the passes leave on the wall, mm; a default follows a narrow bit."""
    cutting = job.cutting
    if not cutting.last_lap:
        return 0.0
    if not job.gives_way("cutting.allowance"):
        return cutting.allowance.value
    return min(cutting.allowance.value, ALLOWANCE_SHARE * job.bit.diameter.value)


def _or(asked: object, otherwise: float) -> float:
    return asked.value if isinstance(asked, Measure) else otherwise


def _usual_tab(job: Job, name: str, usual_mm: float) -> float:
    """What was asked of a tab, mm; a default is no less than what is usual in the sheet's material."""
    asked: float = job.value(name).value
    return max(asked, usual_mm) if job.gives_way(name) else asked


def _usual_height_mm(job: Job, material: Material) -> float:
    """How high a tab usually is; in a thin sheet no more than half of it."""
    thinnest: float = min(place.value for place in job.stock.thickness)
    return min(material.tab_height_mm, thinnest / 2.0)


def tab_rule(job: Job, in_frame: PicturePlace) -> TabRule:
    """How the part is held; tabs placed on the picture are turned to the frame.

    Neck and height are at least those that hold a part in its frame, and follow the material where it asks
    for more.
    """
    part, material = job.part, material_named(job.stock.material)
    placed = part.tabs if isinstance(part.tabs, tuple) else None
    return TabRule(
        neck_mm=_usual_tab(job, "part.tab_neck", material.tab_neck_mm),
        height_mm=_usual_tab(job, "part.tab_height", _usual_height_mm(job, material)),
        spacing_mm=part.tab_spacing.value,
        least_count=part.tab_count,
        placed=None if placed is None else tuple(in_frame.of(point) for point in placed),
        skin_mm=part.skin.value if part.hold == "skin" else 0.0,
    )


def entries_of(job: Job, in_frame: PicturePlace) -> tuple[Point, ...]:
    """Where contours are entered by hand; points placed on the picture are turned to the frame."""
    return tuple(in_frame.of(point) for point in job.part.entries)


def board_of(job: Job) -> Board:
    """What lies under the sheet."""
    return Board(job.stock.board.value, job.stock.board_error.value)


def machine_of(job: Job) -> Machine:
    """The router."""
    machine = job.machine
    return Machine(
        travel_mm=(machine.travel_x.value, machine.travel_y.value, machine.travel_z.value),
        top_feed_mm_min=machine.top_feed.value,
        acceleration_mm_s2=machine.acceleration.value,
        acceleration_z_mm_s2=machine.acceleration_z.value,
        corner_deviation_mm=machine.corner_deviation.value,
        spindle=machine.spindle,
        spin_up_s=machine.spin_up.value,
        spindle_range_rpm=(machine.spindle_slowest.value, machine.spindle_fastest.value),
    )
