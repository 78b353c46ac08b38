# ruff: noqa: RUF009 - declared() makes a dataclass field, once, as field() itself does
"""The bench: how film and part come together, stock, bit and cut.

Each choice is declared here, once, with its default and limits. Defaults are those of a careful maker at a
light router (common practice, no source, unless a line says otherwise). Values are Measures, in mm, mm2,
mm/min, rad, rpm, s or mm/s2 inside.
"""

from dataclasses import dataclass

from core.findings import Point
from core.job.choice import Auto, Stage, declared
from core.job.kinds import Count, Quantity, Several, Word, YesNo, length
from core.job.on_stock import ClampPlace, Reading
from core.job.placed import FramePoint
from core.sheet.clamp import Clamp
from core.sheet.material import CAST_ACRYLIC, MATERIAL_NAMES, MDF, material_named
from core.sheet.zero import AT_POINT, ZERO_WORDS
from core.units import ANGLE, FEED, PERCENT, SPEED, Measure

_FEED = Quantity(FEED, "1 mm/min", "30000 mm/min")
_SHEET_SIDE = length("10 mm", "3 m")
_MASKING = length("0 mm", "2 mm")
_DOUBT = Quantity(PERCENT, "0 %", "2 %")


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
    marks: tuple[Point, ...] | Auto = declared(
        Several(FramePoint(), least=3, most=4, items="points"),
        "auto",
        Stage.SHEET,
        "where the marks stand, the key first; auto proposes a pattern that tells a film laid wrong",
    )
    readings: tuple[Point, ...] = declared(
        Several(Reading(), most=9, items="readings"),
        "",
        Stage.FOUND,
        "what the controller shows over marks 1, 2 and 3: the program is turned and shifted to them",
    )
    eye: Measure = declared(
        length("0.01 mm", "2 mm"), "0.3 mm", Stage.FORECAST, "how far off an eye lays a mark, most times"
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
        length("1 mm", "20 mm"), "5 mm", Stage.SHEET, "diameter of the bored registration holes"
    )
    key: Measure = declared(
        length("1 mm", "20 mm"), "7 mm", Stage.SHEET, "diameter of the key hole, which tells the way up"
    )
    dot: Measure = declared(
        length("0.5 mm", "20 mm"), "4 mm", Stage.SHEET, "diameter of the film dot that hangs in a hole"
    )
    key_dot: Measure = declared(
        length("0.5 mm", "20 mm"), "6 mm", Stage.SHEET, "diameter of the film dot in the key hole"
    )
    hinge: Measure = declared(
        length("0 mm", "100 mm"), "25 mm", Stage.SHEET, "strip of sheet kept free for the tape hinge"
    )
    breaks: bool = declared(
        YesNo(),
        "yes",
        Stage.PATH,
        "in its frame: two cuts from slot to sheet's edge leave 1 mm, more by higher tabs, to snap it open",
    )
    board: Measure = declared(
        length("3 mm", "50 mm"), "6 mm", Stage.SHEET, "how thick the board for a nest is, as measured"
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
        Several(length("0.2 mm", "30 mm"), least=1, most=9, items="places measured"),
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
        length("0 mm", "100 mm"),
        "0 mm",
        Stage.PAPERS,
        "how thick what lies under the bit is when Z is touched off: 0 nothing, 0.1 copy paper, or a plate",
    )
    board: Measure = declared(
        length("1 mm", "50 mm"),
        "6 mm",
        Stage.PROGRAM,
        "how thick the spoil board is; at most half is cut into",
    )
    board_error: Measure = declared(
        length("0 mm", "2 mm"),
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
        length("0.2 mm", "12.7 mm"), "2 mm", Stage.REACH, "no inside corner comes out tighter than its half"
    )
    flutes: int = declared(Count(1, 6), "1", Stage.REACH, "more flutes need more feed for the same chip")
    flute_length: Measure = declared(
        length("0.5 mm", "80 mm"), "6 mm", Stage.REACH, "it must reach through sheet, maskings and skim"
    )
    stick_out: Measure | Auto = declared(
        length("1 mm", "150 mm"),
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
        length("0.05 mm", "20 mm"), "auto", Stage.PATH, "depth per pass: cut this before the feed"
    )
    ramp: Measure | Auto = declared(
        Quantity(ANGLE, "0.5 deg", "30 deg"), "auto", Stage.PATH, "how steeply the bit enters along the edge"
    )
    skim: Measure = declared(
        length("0 mm", "5 mm"), "0.3 mm", Stage.PATH, "how far the last pass cuts into the spoil board"
    )
    safe_height: Measure = declared(
        length("1 mm", "100 mm"), "5 mm", Stage.PATH, "how high above the stock the bit travels"
    )
    air_cut: Measure = declared(
        length("0 mm", "200 mm"),
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
        length("0 mm", "2 mm"),
        "0.2 mm",
        Stage.PATH,
        "what the passes leave on the wall for the last lap; a narrow bit gets less unless it is said",
    )
    bits: tuple[Measure, ...] = declared(
        Several(length("0.2 mm", "12.7 mm"), least=1, most=40, items="bits"),
        "3.175 mm; 3 mm; 2 mm; 1.5 mm; 1 mm",
        Stage.REACH,
        "bits at hand: the widest that would do a place is named; your own table adds its bits to a new Job",
    )
