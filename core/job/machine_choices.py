# ruff: noqa: RUF009 - declared() makes a dataclass field, once, as field() itself does
"""The machines and their files: cutter and knife, router, names and paper.

Each choice is declared here, once, with its default and limits. Defaults are those of a careful maker at a
light router (common practice, no source, unless a line says otherwise). Values are Measures, in mm, mm2,
mm/min, rad, rpm, s or mm/s2 inside.
"""

from dataclasses import dataclass

from core.job.choice import Auto, Stage, declared
from core.job.kinds import NEVER, Count, Day, Name, Quantity, Word, YesNo, length
from core.units import ACCELERATION, ANGLE, FEED, PERCENT, SPEED, TIME, Measure

_FEED = Quantity(FEED, "1 mm/min", "30000 mm/min")
_ACCELERATION = Quantity(ACCELERATION, "1 mm/s2", "20000 mm/s2")
_TRAVEL = length("20 mm", "3 m")
_SCALE = Quantity(PERCENT, "95 %", "105 %")
_WIDTH = length("-0.15 mm", "0.5 mm")
_SKEW = Quantity(ANGLE, "-2 deg", "2 deg")
_DOUBT = Quantity(PERCENT, "0 %", "2 %")


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
        length("0 mm", "1 mm"),
        "0.25 mm",
        Stage.DRAWINGS,
        "how far the knife's tip trails its axis, from the blade's own sheet",
    )
    overcut: Measure | Auto = declared(
        length("0 mm", "5 mm"),
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
        length("5 mm", "1 m"), "50 mm", Stage.PATH, "how far the spindle goes up and down"
    )
    nut: Measure = declared(
        length("3 mm", "100 mm"), "19 mm", Stage.SHEET, "how wide the collet's nut is across its corners"
    )
    nut_length: Measure = declared(
        length("1 mm", "200 mm"), "15 mm", Stage.SHEET, "from the nut's lower face up to the spindle's nose"
    )
    nose: Measure = declared(
        length("3 mm", "300 mm"), "52 mm", Stage.SHEET, "how wide the spindle is above its nut"
    )
    top_feed: Measure = declared(_FEED, "1000 mm/min", Stage.PATH, "no move is asked to be faster")
    acceleration: Measure = declared(
        _ACCELERATION, "50 mm/s2", Stage.PATH, "how briskly x and y start; it sets the true chip in corners"
    )
    acceleration_z: Measure = declared(_ACCELERATION, "30 mm/s2", Stage.PATH, "how briskly z starts")
    corner_deviation: Measure = declared(
        length("0.001 mm", "1 mm"), "0.01 mm", Stage.PATH, "how far the controller may cut a corner"
    )
    spindle: str = declared(
        Word(("program", "knob", "switch")), "program", Stage.PATH, "what turns the spindle on and sets it"
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
        length("0.0005 mm", "0.005 mm"),
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
