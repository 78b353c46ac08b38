"""What a kit's report claims, read from its JSON: the proof believes nothing else about the kit.

Every field that the proof needs is looked up by name; one that is missing or of another kind makes the
report unreadable, with its name in the sentence.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite, pi, sqrt
from typing import Any

from core.errors import UnreadableFile
from core.proof.correction import CorrectionClaim

REPORT_NAME = "report.json"
REPORT_VERSION = 1

Pair = tuple[float, float]


@dataclass(frozen=True)
class MarkClaim:
    """A mark: its place in the frame, the bored and the film diameter, mm.

    Of a strip beside the part the middle of its area, the diameters of the circle as large as it, how wide
    it is, and how far from the part's edge as cut.
    """

    at: Pair
    diameter_mm: float
    film_diameter_mm: float
    kind: str = "hole"
    wide_mm: float = 0.0
    gap_mm: float = 0.0


@dataclass(frozen=True)
class FoundClaim:
    """A program point p, mm from the work zero, is written as R(turn) p + shift."""

    shift_mm: Pair
    turn_deg: float


@dataclass(frozen=True)
class TabClaim:
    """A tab: its stub on the part's wall, middle and length; neck at the stock's bottom; height; mm."""

    at: Pair
    neck_mm: float
    wall_mm: float
    height_mm: float


@dataclass(frozen=True)
class SkinClaim:
    """The skin that holds instead of tabs, mm, and how many openings of one piece go right through."""

    thickness_mm: float
    openings_through: int


@dataclass(frozen=True)
class StockClaim:
    """The sheet, mm."""

    width_mm: float
    depth_mm: float
    thickness_mm: float
    masking_top_mm: float
    masking_bottom_mm: float


@dataclass(frozen=True)
class MachineClaim:
    """What the router and its controller are said to be."""

    travel_mm: tuple[float, float, float]
    spindle: str
    spin_up_s: float
    dwell_unit: str


@dataclass(frozen=True)
class ClampClaim:
    """A clamp: its middle and size in the frame, its top above the stock's bare top, mm."""

    at: Pair
    size_mm: Pair
    height_mm: float
    is_round: bool


@dataclass(frozen=True)
class DrumClaim:
    """What turns above the tip: how far above it a cylinder begins, and its diameter, mm."""

    above_mm: float
    diameter_mm: float


@dataclass(frozen=True)
class StepClaim:
    """A step: its middle in the frame, its depth below the stock's bare top, mm."""

    at: Pair
    depth_mm: float


@dataclass(frozen=True)
class ProgramClaim:
    """What the part program is said to do; z is measured from the stated zero.

    bit_mm is how wide the bit cuts: its diameter, and what the router was measured to cut wider.
    """

    bit_mm: float
    safe_z_mm: float
    bottom_z_mm: float
    tabs: tuple[TabClaim, ...]
    feed_mm_min: float
    plunge_mm_min: float
    spindle_rpm: float
    drums: tuple[DrumClaim, ...] = ()
    air_cut_mm: float = 0.0
    depth_per_pass_mm: float | None = None
    skin: SkinClaim | None = None
    stair: tuple[StepClaim, ...] = ()


@dataclass(frozen=True)
class TipClaim:
    """Within reach_mm of a point of the frame, film may come as near to the part's edge as inset_mm."""

    at: Pair
    inset_mm: float
    reach_mm: float


@dataclass(frozen=True)
class DroppedClaim:
    """A piece of film that was left out: a point inside it, and its area."""

    at: Pair
    area_mm2: float


@dataclass(frozen=True)
class KnifeClaim:
    """How far the knife's tip trails, whether plots do what that needs, and the longest overcut, mm."""

    offset_mm: float = 0.0
    is_compensated: bool = False
    overcut_mm: float = 0.0

    @property
    def is_steered(self) -> bool:
        """Whether the path in a plot is another than the edge that is cut."""
        return self.is_compensated and self.offset_mm > 0.0


@dataclass(frozen=True)
class NestClaim:
    """What the nest board's program is said to do; its zero lies at zero_at in the frame, Z on its top; mm.

    play_mm: how far the part can move in its pocket at most; None where it is not held.
    """

    zero_at: Pair
    pocket_depth_mm: float
    mark_depth_mm: float
    clearance_mm: float
    play_mm: float | None
    bit_mm: float
    safe_z_mm: float
    depth_per_pass_mm: float
    feed_mm_min: float
    plunge_mm_min: float
    spindle_rpm: float


@dataclass(frozen=True)
class FilmClaim:
    """One film by name, its inset and the number to read in the cutter's program, mm.

    laid is its place in the order in which films are laid, 1 the first; overlap_mm how far it goes on under
    a neighbour that is seen above it. witness_mm is the length of the size witness, 0 where there is none;
    svg_unit_mm how long a bare number of its SVG is; corner_mm by how much outside corners may be rounded.
    """

    name: str
    inset_mm: float
    sheet_box_mm: Pair
    overlap_mm: float = 0.0
    laid: float = 1.0
    knife: KnifeClaim = KnifeClaim()
    witness_mm: float = 0.0
    svg_unit_mm: float = 1.0
    weed_lines: float = 0.0
    dropped: tuple[DroppedClaim, ...] = ()
    corner_mm: float = 0.0


@dataclass(frozen=True)
class FileClaim:
    """A file of the kit; film is "" where it belongs to none.

    says is the digest of what it says, "" where the proof of the file itself is all that counts.
    """

    role: str
    format: str
    path: str
    sha256: str
    film: str = ""
    says: str = ""


@dataclass(frozen=True)
class Claims:
    """The whole report, less what the proof does not look at.

    part_mm is the width and height of the part where it has more to it than the drawn shape, whose size
    height_mm and width_mm are.
    """

    height_mm: float
    width_mm: float
    part_mm: Pair | None
    zero_at: Pair
    z_zero: str
    mirror_x: float | None
    marks: tuple[MarkClaim, ...]
    stock: StockClaim
    machine: MachineClaim
    program: ProgramClaim | None
    films: tuple[FilmClaim, ...]
    files: tuple[FileClaim, ...]
    clamps: tuple[ClampClaim, ...] = ()
    pieces: int = 1
    found: FoundClaim | None = None
    router: CorrectionClaim | None = None
    cutter: CorrectionClaim | None = None
    cutter_wider_mm: float = 0.0
    plot_shift: Pair = (0.0, 0.0)
    tips: tuple[TipClaim, ...] = ()
    nest: NestClaim | None = None

    @property
    def top_z_mm(self) -> float:
        """Z of the stock's bare top in the program: 0, or above the board what lies on it."""
        if self.z_zero == "stock top":
            return 0.0
        return self.stock.thickness_mm + self.stock.masking_bottom_mm

    @property
    def films_upwards(self) -> tuple["FilmClaim", ...]:
        """The films as they are seen, the lowest first: behind clear stock the one laid last."""
        return tuple(sorted(self.films, key=lambda film: film.laid, reverse=self.mirror_x is not None))

    @property
    def bored(self) -> tuple[MarkClaim, ...]:
        """The marks that the part program bores."""
        return tuple(mark for mark in self.marks if mark.kind == "hole")

    def files_of(self, role: str, film: str = "") -> tuple[FileClaim, ...]:
        """The files with this role, and of this film where one is named."""
        return tuple(file for file in self.files if file.role == role and (not film or file.film == film))


class _Fields:
    """A JSON object whose fields are asked for by name and kind."""

    def __init__(self, values: Any, path: str) -> None:
        if not isinstance(values, Mapping):
            raise UnreadableFile(f"{REPORT_NAME} is not a kit's report: {path or 'it'} is not an object.")
        self.values, self.path = values, path

    def _wrong(self, name: str, kind: str) -> UnreadableFile:
        where = f"{self.path}.{name}".strip(".")
        return UnreadableFile(f"{REPORT_NAME} is not a kit's report: {where} is not {kind}.")

    def number(self, name: str) -> float:
        value = self.values.get(name)
        if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
            raise self._wrong(name, "a number")
        return float(value)

    def text(self, name: str) -> str:
        value = self.values.get(name)
        if not isinstance(value, str):
            raise self._wrong(name, "a text")
        return value

    def numbers(self, name: str, count: int) -> tuple[float, ...]:
        value = self.values.get(name)
        if not isinstance(value, list) or len(value) != count:
            raise self._wrong(name, f"a list of {count} numbers")
        inner = _Fields({str(i): item for i, item in enumerate(value)}, f"{self.path}.{name}".strip("."))
        return tuple(inner.number(str(i)) for i in range(count))

    def pair(self, name: str) -> Pair:
        x, y = self.numbers(name, 2)
        return x, y

    def inner(self, name: str) -> "_Fields":
        return _Fields(self.values.get(name), f"{self.path}.{name}".strip("."))

    def each(self, name: str) -> list["_Fields"]:
        value = self.values.get(name)
        if not isinstance(value, list):
            raise self._wrong(name, "a list")
        return [_Fields(item, f"{self.path}.{name}[{i}]".strip(".")) for i, item in enumerate(value)]


def report_values(data: bytes) -> Any:
    """What the bytes of a report.json hold. Raises UnreadableFile."""
    try:
        return json.loads(data)
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{REPORT_NAME} is not JSON: {error}.") from error


def claims_of(values: Any) -> Claims:
    """The claims in a report that is already an object. Raises UnreadableFile."""
    fields = _Fields(values, "")
    if fields.number("report") != REPORT_VERSION:
        raise UnreadableFile(
            f"{REPORT_NAME} is of another version than {REPORT_VERSION}; make the kit again."
        )
    frame = fields.inner("frame")
    return Claims(
        height_mm=fields.number("height_mm"),
        width_mm=fields.number("width_mm"),
        part_mm=fields.pair("part_mm") if "part_mm" in fields.values else None,
        zero_at=frame.pair("zero_at"),
        z_zero=frame.text("z_zero"),
        mirror_x=None if frame.values.get("mirror_x") is None else frame.number("mirror_x"),
        marks=tuple(map(_mark, fields.each("marks"))),
        stock=_stock(fields.inner("stock")),
        machine=_machine(fields.inner("machine")),
        program=(
            None
            if fields.values.get("program") is None
            else _program(fields.inner("program"), _width(fields, "router"))
        ),
        films=tuple(map(_film, fields.each("films"))),
        files=tuple(map(_file, fields.each("files"))),
        clamps=tuple(map(_clamp, fields.each("clamps"))) if "clamps" in fields.values else (),
        found=_found(frame),
        router=_correction(fields, "router"),
        cutter=_correction(fields, "cutter"),
        tips=tuple(map(_tip, fields.each("tips"))) if "tips" in fields.values else (),
        cutter_wider_mm=_width(fields, "cutter"),
        plot_shift=frame.pair("plot_shift") if "plot_shift" in frame.values else (0.0, 0.0),
        nest=_nest(fields),
        pieces=max(1, round(fields.number("pieces"))) if "pieces" in fields.values else 1,
    )


def _mark(fields: _Fields) -> MarkClaim:
    kind = fields.text("kind") if "kind" in fields.values else "hole"
    if kind == "edge":
        round_mm = 2.0 * sqrt(max(fields.number("area_mm2"), 0.0) / pi)
        wide, gap = fields.number("diameter_mm"), fields.number("gap_mm")
        return MarkClaim(fields.pair("at"), round_mm, round_mm, kind, wide, gap)
    return MarkClaim(fields.pair("at"), fields.number("diameter_mm"), fields.number("film_diameter_mm"), kind)


def _correction(fields: _Fields, machine: str) -> CorrectionClaim | None:
    if not isinstance(fields.values.get("correction"), Mapping):
        return None
    both = fields.inner("correction")
    if both.values.get(machine) is None:
        return None
    said = both.inner(machine)
    scales = said.number("scale_x"), said.number("scale_y")
    if not min(scales) > 0.0:
        raise UnreadableFile(f"{REPORT_NAME} is not a kit's report: a scale is above 0.")
    claim = CorrectionClaim(*scales, said.number("skew_deg"))
    return None if claim == CorrectionClaim(1.0, 1.0, 0.0) else claim


def _width(fields: _Fields, machine: str) -> float:
    """How much wider than told a machine cuts, mm: made good in the offset."""
    if not isinstance(fields.values.get("correction"), Mapping):
        return 0.0
    both = fields.inner("correction")
    if both.values.get(machine) is None or "width_mm" not in both.inner(machine).values:
        return 0.0
    return both.inner(machine).number("width_mm")


def _found(frame: _Fields) -> FoundClaim | None:
    if frame.values.get("found") is None:
        return None
    found = frame.inner("found")
    return FoundClaim(found.pair("shift_mm"), found.number("turn_deg"))


def _stock(fields: _Fields) -> StockClaim:
    return StockClaim(
        fields.number("width_mm"),
        fields.number("depth_mm"),
        fields.number("thickness_mm"),
        fields.number("masking_top_mm"),
        fields.number("masking_bottom_mm"),
    )


def _machine(fields: _Fields) -> MachineClaim:
    x, y, z = fields.numbers("travel_mm", 3)
    spin_up = fields.number("spin_up_s")
    return MachineClaim((x, y, z), fields.text("spindle"), spin_up, fields.text("dwell_unit"))


def _program(fields: _Fields, wider_mm: float) -> ProgramClaim:
    return ProgramClaim(
        bit_mm=fields.number("bit_mm") + wider_mm,
        safe_z_mm=fields.number("safe_z_mm"),
        bottom_z_mm=fields.number("bottom_z_mm"),
        tabs=tuple(
            TabClaim(tab.pair("at"), tab.number("neck_mm"), tab.number("wall_mm"), tab.number("height_mm"))
            for tab in fields.each("tabs")
        ),
        feed_mm_min=fields.number("feed_mm_min"),
        plunge_mm_min=fields.number("plunge_mm_min"),
        spindle_rpm=fields.number("spindle_rpm"),
        drums=tuple(map(_drum, fields.each("above_tip"))) if "above_tip" in fields.values else (),
        air_cut_mm=fields.number("air_cut_mm") if "air_cut_mm" in fields.values else 0.0,
        depth_per_pass_mm=(
            fields.number("depth_per_pass_mm") if "depth_per_pass_mm" in fields.values else None
        ),
        skin=_skin(fields),
        stair=(
            tuple(StepClaim(step.pair("at"), step.number("depth_mm")) for step in fields.each("stair"))
            if "stair" in fields.values
            else ()
        ),
    )


def _skin(fields: _Fields) -> SkinClaim | None:
    if fields.values.get("skin") is None:
        return None
    skin = fields.inner("skin")
    return SkinClaim(skin.number("thickness_mm"), round(skin.number("openings_through")))


def _nest(report: _Fields) -> NestClaim | None:
    if report.values.get("nest") is None:
        return None
    fields, wider_mm = report.inner("nest"), _width(report, "router")
    return NestClaim(
        zero_at=fields.pair("zero_at"),
        play_mm=None if fields.values.get("play_mm") is None else fields.number("play_mm"),
        pocket_depth_mm=fields.number("pocket_depth_mm"),
        mark_depth_mm=fields.number("mark_depth_mm"),
        clearance_mm=fields.number("clearance_mm"),
        bit_mm=fields.number("bit_mm") + wider_mm,
        safe_z_mm=fields.number("safe_z_mm"),
        depth_per_pass_mm=fields.number("depth_per_pass_mm"),
        feed_mm_min=fields.number("feed_mm_min"),
        plunge_mm_min=fields.number("plunge_mm_min"),
        spindle_rpm=fields.number("spindle_rpm"),
    )


def _drum(fields: _Fields) -> DrumClaim:
    return DrumClaim(fields.number("above_mm"), fields.number("diameter_mm"))


def _clamp(fields: _Fields) -> ClampClaim:
    is_round = fields.values.get("round") is True
    return ClampClaim(fields.pair("at"), fields.pair("size_mm"), fields.number("height_mm"), is_round)


def _film(fields: _Fields) -> FilmClaim:
    return FilmClaim(
        fields.text("name"),
        fields.number("inset_mm"),
        fields.pair("sheet_box_mm"),
        fields.number("overlap_mm") if "overlap_mm" in fields.values else 0.0,
        fields.number("laid") if "laid" in fields.values else 1.0,
        _knife(fields.inner("knife")) if "knife" in fields.values else KnifeClaim(),
        fields.number("witness_mm") if "witness_mm" in fields.values else 0.0,
        fields.number("svg_unit_mm") if "svg_unit_mm" in fields.values else 1.0,
        fields.number("weed_lines") if "weed_lines" in fields.values else 0.0,
        tuple(map(_dropped, fields.each("dropped"))) if "dropped" in fields.values else (),
        fields.number("corner_mm") if "corner_mm" in fields.values else 0.0,
    )


def _dropped(fields: _Fields) -> DroppedClaim:
    return DroppedClaim(fields.pair("at"), fields.number("area_mm2"))


def _tip(fields: _Fields) -> TipClaim:
    return TipClaim(fields.pair("at"), fields.number("inset_mm"), fields.number("reach_mm"))


def _knife(fields: _Fields) -> KnifeClaim:
    is_compensated = fields.values.get("compensated") is True
    return KnifeClaim(fields.number("offset_mm"), is_compensated, fields.number("overcut_mm"))


def _file(fields: _Fields) -> FileClaim:
    film = fields.text("film") if "film" in fields.values else ""
    says = fields.text("says_sha256") if "says_sha256" in fields.values else ""
    return FileClaim(
        fields.text("role"), fields.text("format"), fields.text("path"), fields.text("sha256"), film, says
    )
