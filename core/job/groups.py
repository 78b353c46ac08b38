# ruff: noqa: RUF009 - declared() makes a dataclass field, once, as field() itself does
"""The groups of choices of a Job; each choice is declared here, once, with its default and limits.

Defaults are those of a careful maker at a light router (common practice, no source, unless a line
says otherwise). Values are Measures, in mm, mm2, mm/min, rad, rpm, s or mm/s2 inside.
"""

from dataclasses import dataclass

from core.findings import Point
from core.job.choice import Auto, Stage, declared
from core.job.edits import CornerMade, TouchUp
from core.job.kinds import NEVER, Colour, Count, Day, Name, Quantity, Several, Word, YesNo
from core.job.on_stock import ClampPlace, Reading
from core.job.placed import ColourAndRole, FramePoint, PairOfPoints, PatchAndRole, PicturePoint
from core.job.seen import ColourPair, Paper, PicturePoints
from core.job.tips import PictureTip, TipInset
from core.job.wish import PointPair, RoleOfColour, RoleOfPatch
from core.picture.paper_size import PaperSize
from core.regular.rule import Rule
from core.sheet.clamp import Clamp
from core.sheet.material import CAST_ACRYLIC, MATERIAL_NAMES, MDF, material_named
from core.sheet.zero import AT_POINT, ZERO_WORDS
from core.touch.edit import Corner, Touch
from core.units import ACCELERATION, ANGLE, AREA, FEED, LENGTH, PERCENT, SPEED, TIME, Measure


def _length(least: str, most: str) -> Quantity:
    return Quantity(LENGTH, least, most)


_FEED = Quantity(FEED, "1 mm/min", "30000 mm/min")
_ACCELERATION = Quantity(ACCELERATION, "1 mm/s2", "20000 mm/s2")
_SHEET_SIDE = _length("10 mm", "3 m")
_TRAVEL = _length("20 mm", "3 m")
_MASKING = _length("0 mm", "2 mm")
_SCALE = Quantity(PERCENT, "95 %", "105 %")
_WIDTH = _length("-0.15 mm", "0.5 mm")
_SKEW = Quantity(ANGLE, "-2 deg", "2 deg")
_DOUBT = Quantity(PERCENT, "0 %", "2 %")


@dataclass(frozen=True)
class PictureChoices:
    """What is seen in the picture."""

    pixels: str = declared(
        Word(("enough", "all")),
        "enough",
        Stage.READ,
        "large pictures are read at a half or less; or every pixel",
    )
    corners: tuple[Point, ...] | Auto = declared(
        PicturePoints(4, "the four corners of a sheet", "120,80; 900,95; 880,1200; 100,1180"),
        "auto",
        Stage.SQUARE,
        "a sheet photographed at a slant is made square; auto looks for one",
    )
    paper: PaperSize | Auto = declared(
        Paper(), "auto", Stage.SQUARE, "the size of that sheet; it gives the drawing its true height"
    )
    level: Measure = declared(
        Quantity(ANGLE, "-45 deg", "45 deg"),
        "0 deg",
        Stage.SQUARE,
        "the picture is turned by so much, counter-clockwise",
    )
    crop: tuple[Point, ...] = declared(
        PicturePoints(2, "two opposite corners", "40,30; 400,380"),
        "none",
        Stage.SQUARE,
        "what of the picture is kept; the rest is not looked at",
    )
    light: str = declared(
        Word(("evened", "as it is")),
        "evened",
        Stage.SQUARE,
        "shading and soft shadows are taken out, or left",
    )
    colours: int | Auto = declared(
        Count(2, 16), "auto", Stage.COLOURS, "how many flat colours the picture has, its ground counted"
    )
    palette: tuple[str, ...] | Auto = declared(
        Several(Colour(), least=2, most=16, items="colours"),
        "auto",
        Stage.COLOURS,
        "the flat colours by hand, instead of those that are found",
    )
    merged: tuple[tuple[str, str], ...] = declared(
        Several(ColourPair(), most=16, items="pairs of colours"),
        "",
        Stage.COLOURS,
        "pairs of found colours that are one; the first takes in the second",
    )
    transfer: str = declared(
        Word(("as stored", "linear light")),
        "as stored",
        Stage.TRACE,
        "what a pixel at an edge is the mean of: stored numbers, as drawing programs do, or light",
    )
    ground: str | Auto = declared(
        Colour(), "auto", Stage.COLOURS, "the colour round the shape; it is no part of it"
    )
    touches: tuple[Touch, ...] = declared(
        Several(TouchUp(), items="touch-ups"),
        "",
        Stage.TOUCH,
        "small edits of the picture: rub out, fill a speck, bridge a gap, part what touches",
    )


@dataclass(frozen=True)
class ShapeChoices:
    """What becomes of the patches, and how high the shape stands."""

    height: Measure | Auto = declared(
        _length("5 mm", "2 m"),
        "auto",
        Stage.SHAPE,
        "one height for part and films; auto is what a known paper says, else 100 mm",
    )
    colours: tuple[RoleOfColour, ...] = declared(
        Several(ColourAndRole(), most=16, items="roles"),
        "",
        Stage.SHAPE,
        "what becomes of each colour: a film, bare, a hole, or ground",
    )
    patches: tuple[RoleOfPatch, ...] = declared(
        Several(PatchAndRole(), items="roles"),
        "",
        Stage.SHAPE,
        "what becomes of single patches that differ from their colour",
    )
    smallest: Measure = declared(
        Quantity(AREA, "0 mm2", "1000 mm2"), "0.5 mm2", Stage.SHAPE, "specks under this area are dropped"
    )
    corners: tuple[Corner, ...] = declared(
        Several(CornerMade(), items="corners"),
        "",
        Stage.SHAPE,
        "single corners made sharp, or round with a radius",
    )
    regular: tuple[str, ...] = declared(
        Several(Word(tuple(Rule)), most=len(Rule), items="rules"),
        "",
        Stage.REGULAR,
        "what is made regular within the picture's noise: level lines, square corners, equal radii, "
        "one centre, mirrored halves",
    )
    pieces: str = declared(
        Word(("several", "bridged", "based")),
        "several",
        Stage.PIECES,
        "parts that do not touch: each its own, joined by bridges, or on a base plate",
    )
    bridge_width: Measure = declared(
        _length("0.5 mm", "100 mm"), "4 mm", Stage.PIECES, "how wide bridges, and necks of a base plate, are"
    )
    bridge_foot: Measure = declared(
        _length("0 mm", "20 mm"),
        "2 mm",
        Stage.PIECES,
        "radius at a bridge's feet, where it would crack first",
    )
    base_margin: Measure = declared(
        _length("0.5 mm", "200 mm"), "5 mm", Stage.PIECES, "how far a base plate stands out round the shape"
    )


@dataclass(frozen=True)
class PartChoices:
    """What holds the part while it is cut."""

    hold: str = declared(
        Word(("tabs", "skin")),
        "tabs",
        Stage.PATH,
        "tabs hold the part, or a skin under every slot, which is cut by hand and asks for Z on the board",
    )
    skin: Measure = declared(
        _length("0.1 mm", "3 mm"),
        "0.5 mm",
        Stage.PATH,
        "how thick the skin is that the last pass leaves above the board",
    )
    tabs: tuple[Point, ...] | Auto = declared(
        Several(PicturePoint(), items="points"),
        "auto",
        Stage.PATH,
        "where tabs hold the part; each point settles on the edge nearest to it",
    )
    tab_neck: Measure = declared(
        _length("0.5 mm", "20 mm"), "3 mm", Stage.PATH, "how wide a tab is where it is narrowest"
    )
    tab_height: Measure = declared(
        _length("0.2 mm", "10 mm"), "0.8 mm", Stage.PATH, "how high a tab stands on the stock's bottom"
    )
    tab_spacing: Measure = declared(
        _length("10 mm", "500 mm"), "60 mm", Stage.PATH, "the longest run of edge without a tab"
    )
    tab_count: int = declared(
        Count(2, 60), "4", Stage.PATH, "how many tabs hold each part at least; fewer let it turn"
    )
    hanger: tuple[Point, ...] | Auto = declared(
        Several(PicturePoint(), most=1, items="points"),
        "",
        Stage.HANGER,
        "a hole to hang the part by: none, a point, or auto, where it hangs straight",
        may_be_auto=True,
    )
    hanger_hole: Measure = declared(
        _length("1 mm", "30 mm"), "4 mm", Stage.HANGER, "diameter of the hole that the part hangs by"
    )


@dataclass(frozen=True)
class FilmChoices:
    """How the films lie on the part."""

    inset: Measure = declared(
        _length("0 mm", "20 mm"), "0.8 mm", Stage.FILMS, "how far films stay inside the part's edge"
    )
    overlap: Measure = declared(
        _length("0 mm", "2 mm"),
        "0.6 mm",
        Stage.FILMS,
        "how far the lower of two films that meet goes on under the upper one; at most 0.5 mm behind",
    )
    order: tuple[str, ...] = declared(
        Several(Name(), most=16, items="names"),
        "",
        Stage.FILMS,
        "names of films from the lowest up; those not named lie below them, light ones lowest",
    )
    smallest_piece: Measure = declared(
        Quantity(AREA, "0 mm2", "1000 mm2"), "0 mm2", Stage.FILMS, "pieces of film under this are left out"
    )
    dropped: tuple[Point, ...] = declared(
        Several(PicturePoint(), items="points"), "", Stage.FILMS, "single pieces of film that are left out"
    )
    tips: tuple[PictureTip, ...] = declared(
        Several(TipInset(), items="tips"),
        "",
        Stage.FILMS,
        "tips of the part where film may come nearer to the edge, each with an inset of its own",
    )
    corner_radius: Measure = declared(
        _length("0 mm", "5 mm"),
        "0 mm",
        Stage.FILMS,
        "outside corners of films are rounded by this much, where no other film adjoins: sharp ones lift",
    )
    side: str = declared(
        Word(("front", "behind")),
        "front",
        Stage.FILMS,
        "films lie on the front, or behind clear stock, where they are cut mirrored",
    )
    stock_width: Measure | Auto = declared(
        _length("10 mm", "3 m"), "auto", Stage.DRAWINGS, "how wide the film is; auto asks nothing of it"
    )
    stock_length: Measure | Auto = declared(
        _length("10 mm", "100 m"), "auto", Stage.DRAWINGS, "how long the film is; auto asks nothing of it"
    )
    roller_margin: Measure = declared(
        _length("0 mm", "100 mm"),
        "10 mm",
        Stage.DRAWINGS,
        "film that the cutter's rollers need on every side of the sheet box",
    )
    strips: Measure | Auto = declared(
        _length("0 mm", "500 mm"),
        "auto",
        Stage.DRAWINGS,
        "weed lines cut waste into strips so wide, 10 mm at least; 0 draws none, auto 60 mm on a large sheet",
    )
    match: str = declared(
        Word(("edges", "outline")),
        "edges",
        Stage.MATCH,
        "a second picture is laid on the first by every edge, or by nothing but its outline",
    )
    pairs: tuple[PointPair, ...] | Auto = declared(
        Several(PairOfPoints(), least=3, most=9, items="pairs"),
        "auto",
        Stage.MATCH,
        "points of the second picture and where they lie on the first, when it is laid by hand",
    )
    picture_colours: int | Auto = declared(
        Count(2, 16), "auto", Stage.SECOND_COLOURS, "how many flat colours the second picture has"
    )
    picture_ground: str | Auto = declared(
        Colour(), "auto", Stage.SECOND_COLOURS, "the colour round the shape in the second picture; no film"
    )
    colours: tuple[RoleOfColour, ...] = declared(
        Several(ColourAndRole(), most=16, items="roles"),
        "",
        Stage.SECOND_PATCHES,
        "what becomes of each colour of the second picture: a film, or bare",
    )
    patches: tuple[RoleOfPatch, ...] = declared(
        Several(PatchAndRole(), items="roles"),
        "",
        Stage.SECOND_PATCHES,
        "what becomes of single patches of the second picture, in its own pixels",
    )


@dataclass(frozen=True)
class FitChoices:
    """How films and part are brought together, and the marks that do it."""

    way: str = declared(
        Word(("frame", "edge", "nest", "sheet")),
        "frame",
        Stage.SHEET,
        "frame: films are laid while the part hangs in its sheet; edge: on the loose part, by strips beside "
        "its edge; nest: on the loose part in a board with its pocket; sheet: on the sheet before it is cut",
    )
    readings: tuple[Point, ...] = declared(
        Several(Reading(), most=9, items="readings"),
        "",
        Stage.FOUND,
        "what the controller shows over marks 1, 2 and 3: the program is turned and shifted to them",
    )
    eye: Measure = declared(
        _length("0.01 mm", "2 mm"), "0.3 mm", Stage.FORECAST, "how far off an eye lays a mark, most times"
    )
    scale_doubt: Measure | Auto = declared(
        _DOUBT,
        "auto",
        Stage.FORECAST,
        "how far cutter and router differ in scale; auto: from both",
    )
    skew_doubt: Measure | Auto = declared(
        _DOUBT, "auto", Stage.FORECAST, "how far their axes are from square; auto: from both"
    )
    hole: Measure = declared(
        _length("1 mm", "20 mm"), "5 mm", Stage.SHEET, "diameter of the bored registration holes"
    )
    key: Measure = declared(
        _length("1 mm", "20 mm"), "7 mm", Stage.SHEET, "diameter of the key hole, which tells the way up"
    )
    dot: Measure = declared(
        _length("0.5 mm", "20 mm"), "4 mm", Stage.SHEET, "diameter of the film dot that hangs in a hole"
    )
    key_dot: Measure = declared(
        _length("0.5 mm", "20 mm"), "6 mm", Stage.SHEET, "diameter of the film dot in the key hole"
    )
    hinge: Measure = declared(
        _length("0 mm", "100 mm"), "25 mm", Stage.SHEET, "strip of sheet kept free for the tape hinge"
    )
    board: Measure = declared(
        _length("3 mm", "50 mm"), "6 mm", Stage.SHEET, "how thick the board for a nest is, as measured"
    )
    board_material: str = declared(
        Word(MATERIAL_NAMES), MDF.name, Stage.NEST, "what the board for a nest is made of; it sets its feeds"
    )


@dataclass(frozen=True)
class StockChoices:
    """The sheet on the table, and where the program's zero lies on it."""

    material: str = declared(
        Word(MATERIAL_NAMES),
        CAST_ACRYLIC.name,
        Stage.SHEET,
        "it sets feeds, tabs and whether vinyl holds; clear stock may carry films behind",
    )
    thickness: tuple[Measure, ...] = declared(
        Several(_length("0.2 mm", "30 mm"), least=1, most=9, items="places measured"),
        "3 mm",
        Stage.SHEET,
        "the bare sheet as measured, in one or more places",
    )
    width: Measure | Auto = declared(
        _SHEET_SIDE, "auto", Stage.SHEET, "the sheet from left to right; auto takes the smallest that does"
    )
    depth: Measure | Auto = declared(
        _SHEET_SIDE, "auto", Stage.SHEET, "the sheet from near to far; auto takes the smallest that does"
    )
    masking_top: Measure = declared(
        _MASKING, "0.1 mm", Stage.SHEET, "the cover left on top; it counts when Z is touched off"
    )
    masking_bottom: Measure = declared(
        _MASKING, "0.1 mm", Stage.SHEET, "the cover left below; it counts when Z is zeroed on the board"
    )
    zero_at: Point = declared(
        FramePoint(), "0,0", Stage.SHEET, "where the work zero lies, from the stock's left near corner"
    )
    zero_on: str = declared(
        Word(ZERO_WORDS),
        AT_POINT,
        Stage.SHEET,
        "what the work zero stands on: the point of zero_at, a corner of the stock, or a point of the part",
    )
    z_zero: str = declared(
        Word(("top", "board")),
        "top",
        Stage.PROGRAM,
        "Z is zeroed on the stock's top, or on the board, which makes tabs exact",
    )
    touch: Measure = declared(
        _length("0 mm", "100 mm"),
        "0 mm",
        Stage.PAPERS,
        "how thick what lies under the bit is when Z is touched off: 0 nothing, 0.1 copy paper, or a plate",
    )
    board: Measure = declared(
        _length("1 mm", "50 mm"),
        "6 mm",
        Stage.PROGRAM,
        "how thick the spoil board is; at most half is cut into",
    )
    board_error: Measure = declared(
        _length("0 mm", "2 mm"),
        "0.1 mm",
        Stage.PROGRAM,
        "how far the spoil board is from level under the part; a skimmed one is better",
    )
    copies: int = declared(
        Count(1, 200), "1", Stage.SHEET, "how many pieces are cut on one sheet, with one set of marks"
    )
    nesting: str = declared(
        Word(("rows", "tight")),
        "rows",
        Stage.SHEET,
        "copies in rows, or tightly: turned by half a turn and laid into each other's bays",
    )
    clamps: tuple[Clamp, ...] = declared(
        Several(ClampPlace(), most=60, items="clamps"),
        "",
        Stage.SHEET,
        "what holds the stock down; part, marks, nut and spindle keep clear of it",
    )

    @property
    def is_clear(self) -> bool:
        """Whether marks and films can be seen through the stock."""
        return material_named(self.material).is_clear


@dataclass(frozen=True)
class BitChoices:
    """The end mill."""

    diameter: Measure = declared(
        _length("0.2 mm", "12.7 mm"), "2 mm", Stage.REACH, "no inside corner comes out tighter than its half"
    )
    flutes: int = declared(Count(1, 6), "1", Stage.REACH, "more flutes need more feed for the same chip")
    flute_length: Measure = declared(
        _length("0.5 mm", "80 mm"), "6 mm", Stage.REACH, "it must reach through sheet, maskings and skim"
    )
    stick_out: Measure | Auto = declared(
        _length("1 mm", "150 mm"),
        "auto",
        Stage.SHEET,
        "from collet to tip: half of it bends an eighth as far",
    )


@dataclass(frozen=True)
class CuttingChoices:
    """How fast and how deep; numbers are starting points, not promises."""

    speed: Measure = declared(
        Quantity(SPEED, "500 rpm", "60000 rpm"), "10000 rpm", Stage.PATH, "too fast melts plastic"
    )
    feed: Measure | Auto = declared(
        _FEED, "auto", Stage.PATH, "too slow melts plastic, too fast snaps the bit"
    )
    plunge: Measure | Auto = declared(_FEED, "auto", Stage.PATH, "how fast the bit goes down")
    depth: Measure | Auto = declared(
        _length("0.05 mm", "20 mm"), "auto", Stage.PATH, "depth per pass: cut this before the feed"
    )
    ramp: Measure | Auto = declared(
        Quantity(ANGLE, "0.5 deg", "30 deg"), "auto", Stage.PATH, "how steeply the bit enters along the edge"
    )
    skim: Measure = declared(
        _length("0 mm", "5 mm"), "0.3 mm", Stage.PATH, "how far the last pass cuts into the spoil board"
    )
    safe_height: Measure = declared(
        _length("1 mm", "100 mm"), "5 mm", Stage.PATH, "how high above the stock the bit travels"
    )
    air_cut: Measure = declared(
        _length("0 mm", "200 mm"),
        "0 mm",
        Stage.PATH,
        "also a program raised by this much, to be watched before the cut; 0 writes none",
    )
    rough: str = declared(
        Word(("climb", "conventional")), "climb", Stage.PATH, "which way round the passes run"
    )
    last_lap: bool = declared(
        YesNo(), "yes", Stage.PATH, "one full-depth lap the other way leaves a clean wall"
    )
    allowance: Measure = declared(
        _length("0 mm", "2 mm"),
        "0.2 mm",
        Stage.PATH,
        "what the passes leave on the wall for the last lap; a narrow bit gets less unless it is said",
    )


@dataclass(frozen=True)
class KnifeChoices:
    """The cutter and its knife; most cutters do what the knife needs by themselves."""

    plot: bool = declared(
        YesNo(), "yes", Stage.DRAWINGS, "also each film as an HP-GL plot, to be sent to a cutter as it is"
    )
    compensated: bool = declared(
        YesNo(),
        "no",
        Stage.DRAWINGS,
        "plots steer the knife round corners; no where the cutter does it, as most do: twice makes ears",
    )
    offset: Measure = declared(
        _length("0 mm", "1 mm"),
        "0.25 mm",
        Stage.DRAWINGS,
        "how far the knife's tip trails its axis, from the blade's own sheet",
    )
    overcut: Measure | Auto = declared(
        _length("0 mm", "5 mm"),
        "auto",
        Stage.DRAWINGS,
        "how far plots go on past a contour's start, at most a tenth of it; auto is 1 mm if compensated",
    )
    witness: bool = declared(
        YesNo(),
        "yes",
        Stage.DRAWINGS,
        "a line of 50 mm that is not cut stands in every film drawing, to lay a ruler on",
    )
    density: str = declared(
        Word(("stated", "96", "90", "72")),
        "stated",
        Stage.DRAWINGS,
        "for programs that read no mm: how many of an SVG's bare numbers they take for an inch",
    )
    width: Measure = declared(
        _WIDTH,
        "0 mm",
        Stage.DRAWINGS,
        "how much smaller than drawn the cutter was measured to leave films; they are drawn larger by it",
    )
    scale_x: Measure = declared(
        _SCALE,
        "100 %",
        Stage.DRAWINGS,
        "how much longer films are written along x, for a measured error",
    )
    scale_y: Measure = declared(
        _SCALE,
        "100 %",
        Stage.DRAWINGS,
        "how much longer films are written along y, for a measured error",
    )
    skew: Measure = declared(
        _SKEW, "0 deg", Stage.DRAWINGS, "by how much film files lean to the right, to make axes square"
    )
    scale_doubt: Measure | Auto = declared(
        _DOUBT,
        "auto",
        Stage.FORECAST,
        "how far off its scales may be; auto: 0.14 %, as without a gauge",
    )
    skew_doubt: Measure | Auto = declared(
        _DOUBT,
        "auto",
        Stage.FORECAST,
        "how far it may be from square; auto: 0.07 %, as without a gauge",
    )
    gauged: str = declared(
        Day(), NEVER, Stage.PAPERS, "the day on which the gauge was read that its correction comes from"
    )


@dataclass(frozen=True)
class MachineChoices:
    """The router: how far, how fast, and how its controller wants to be told."""

    travel_x: Measure = declared(_TRAVEL, "300 mm", Stage.SHEET, "how far the machine goes left to right")
    travel_y: Measure = declared(_TRAVEL, "200 mm", Stage.SHEET, "how far the machine goes near to far")
    travel_z: Measure = declared(
        _length("5 mm", "1 m"), "50 mm", Stage.PATH, "how far the spindle goes up and down"
    )
    nut: Measure = declared(
        _length("3 mm", "100 mm"), "19 mm", Stage.SHEET, "how wide the collet's nut is across its corners"
    )
    nut_length: Measure = declared(
        _length("1 mm", "200 mm"), "15 mm", Stage.SHEET, "from the nut's lower face up to the spindle's nose"
    )
    nose: Measure = declared(
        _length("3 mm", "300 mm"), "52 mm", Stage.SHEET, "how wide the spindle is above its nut"
    )
    top_feed: Measure = declared(_FEED, "1000 mm/min", Stage.PATH, "no move is asked to be faster")
    acceleration: Measure = declared(
        _ACCELERATION, "50 mm/s2", Stage.PATH, "how briskly x and y start; it sets the true chip in corners"
    )
    acceleration_z: Measure = declared(_ACCELERATION, "30 mm/s2", Stage.PATH, "how briskly z starts")
    corner_deviation: Measure = declared(
        _length("0.001 mm", "1 mm"), "0.01 mm", Stage.PATH, "how far the controller may cut a corner"
    )
    spindle: str = declared(
        Word(("program", "knob", "switch")), "program", Stage.PROGRAM, "what turns the spindle on and sets it"
    )
    spindle_slowest: Measure = declared(
        Quantity(SPEED, "0 rpm", "60000 rpm"),
        "1000 rpm",
        Stage.PATH,
        "the slowest speed at which the spindle still turns",
    )
    spindle_fastest: Measure = declared(
        Quantity(SPEED, "500 rpm", "100000 rpm"),
        "30000 rpm",
        Stage.PATH,
        "the fastest speed of the spindle; look at its plate",
    )
    spin_up: Measure = declared(
        Quantity(TIME, "0 s", "120 s"), "5 s", Stage.PROGRAM, "time the spindle needs before the first cut"
    )
    dwell_unit: str = declared(
        Word(("s", "ms")), "s", Stage.PROGRAM, "controllers read a dwell as seconds or as milliseconds"
    )
    arcs: bool = declared(YesNo(), "yes", Stage.PROGRAM, "whether the controller takes G2 and G3")
    width: Measure = declared(
        _WIDTH,
        "0 mm",
        Stage.REACH,
        "how much wider than its bit the router was measured to cut; paths keep off by half of it",
    )
    scale_x: Measure = declared(
        _SCALE, "100 %", Stage.FOUND, "how much longer programs are written along x, for a measured error"
    )
    scale_y: Measure = declared(
        _SCALE, "100 %", Stage.FOUND, "how much longer programs are written along y, for a measured error"
    )
    skew: Measure = declared(
        _SKEW, "0 deg", Stage.FOUND, "by how much programs lean to the right, to make axes square"
    )
    scale_doubt: Measure | Auto = declared(
        _DOUBT,
        "auto",
        Stage.FORECAST,
        "how far off its scales may be; auto: 0.14 %, as without a gauge",
    )
    skew_doubt: Measure | Auto = declared(
        _DOUBT,
        "auto",
        Stage.FORECAST,
        "how far it may be from square; auto: 0.07 %, as without a gauge",
    )
    gauged: str = declared(
        Day(), NEVER, Stage.PAPERS, "the day on which the gauge was read that its correction comes from"
    )
    units: str = declared(Word(("mm", "inch")), "mm", Stage.PROGRAM, "G21 or G20; the part is the same")
    ending: str = declared(Word(("M2", "M30")), "M2", Stage.PROGRAM, "how the program ends")
    extension: str = declared(
        Word(("nc", "ngc", "tap", "gcode", "cnc")), "nc", Stage.PROGRAM, "what the program's file ends in"
    )
    decimals: int = declared(
        Count(4, 5), "4", Stage.PROGRAM, "of a coordinate in mm, in inches one more; fewer break round arcs"
    )
    chords: Measure = declared(
        _length("0.0005 mm", "0.005 mm"),
        "0.002 mm",
        Stage.PROGRAM,
        "how far straight pieces may leave the curve where the controller takes no arcs",
    )
    line_length: int = declared(
        Count(60, 256), "70", Stage.PROGRAM, "characters of a line; small controllers cut longer ones off"
    )
    line_ends: str = declared(
        Word(("LF", "CRLF")), "LF", Stage.PROGRAM, "how a line ends; older controllers want both characters"
    )
    line_numbers: bool = declared(
        YesNo(), "no", Stage.PROGRAM, "N words before each line, where a controller asks for them"
    )
    per_cent: bool = declared(
        YesNo(), "no", Stage.PROGRAM, "per cent signs round the program, where a controller asks for them"
    )
    comments: bool = declared(
        YesNo(), "yes", Stage.PROGRAM, "words for people in the program; some controllers take none"
    )


@dataclass(frozen=True)
class FilesChoices:
    """What the files are called, and the paper that is printed on."""

    name: str | Auto = declared(
        Name(), "auto", Stage.PROGRAM, "the job's name in every file's name; auto takes the picture's"
    )
    paper: str = declared(
        Word(("A4", "Letter")), "A4", Stage.PAPERS, "the paper that job sheet and paper proof are printed on"
    )
