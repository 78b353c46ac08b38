"""The claims of a report, looked up field by field; one of another version or kind is refused."""

from collections.abc import Mapping
from math import pi, sqrt
from typing import Any

from core.errors import UnreadableFile
from core.proof.claims import (
    SIDES,
    BreakClaim,
    BridgeClaim,
    Claims,
    ClampClaim,
    DroppedClaim,
    DrumClaim,
    FileClaim,
    FilmClaim,
    FineClaim,
    FoundClaim,
    HingeClaim,
    KnifeClaim,
    MachineClaim,
    MarkClaim,
    MovedClaim,
    NestClaim,
    ProgramClaim,
    ReliefClaim,
    RimClaim,
    RimRunClaim,
    RowClaim,
    SkinClaim,
    StencilClaim,
    StepClaim,
    StockClaim,
    TabClaim,
    TipClaim,
)
from core.proof.correction import CorrectionClaim
from core.proof.report_fields import REPORT_NAME, Fields

REPORT_VERSION = 1
#: What became of a rim, and why a place of a film was moved.
RIM_WAYS, MOVED_WHY = ("moved", "thinned", "dropped"), ("grown", "opened")


def claims_of(values: Any) -> Claims:
    """The claims in a report that is already an object. Raises UnreadableFile."""
    fields = Fields(values, "")
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
        rows=tuple(map(_row, fields.each("lettering"))) if "lettering" in fields.values else (),
        cutter_wider_mm=_width(fields, "cutter"),
        plot_shift=frame.pair("plot_shift") if "plot_shift" in frame.values else (0.0, 0.0),
        nest=_nest(fields),
        hinge=_hinge(frame),
        reliefs=tuple(map(_relief, fields.each("reliefs"))) if "reliefs" in fields.values else None,
        pieces=max(1, round(fields.number("pieces"))) if "pieces" in fields.values else 1,
    )


def _mark(fields: Fields) -> MarkClaim:
    kind = fields.text("kind") if "kind" in fields.values else "hole"
    if kind == "edge":
        round_mm = 2.0 * sqrt(max(fields.number("area_mm2"), 0.0) / pi)
        wide, gap = fields.number("diameter_mm"), fields.number("gap_mm")
        return MarkClaim(fields.pair("at"), round_mm, round_mm, kind, wide, gap)
    return MarkClaim(fields.pair("at"), fields.number("diameter_mm"), fields.number("film_diameter_mm"), kind)


def _correction(fields: Fields, machine: str) -> CorrectionClaim | None:
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


def _width(fields: Fields, machine: str) -> float:
    """How much wider than told a machine cuts, mm: made good in the offset."""
    if not isinstance(fields.values.get("correction"), Mapping):
        return 0.0
    both = fields.inner("correction")
    if both.values.get(machine) is None or "width_mm" not in both.inner(machine).values:
        return 0.0
    return both.inner(machine).number("width_mm")


def _found(frame: Fields) -> FoundClaim | None:
    if frame.values.get("found") is None:
        return None
    found = frame.inner("found")
    return FoundClaim(found.pair("shift_mm"), found.number("turn_deg"))


def _stock(fields: Fields) -> StockClaim:
    return StockClaim(
        fields.number("width_mm"),
        fields.number("depth_mm"),
        fields.number("thickness_mm"),
        fields.number("masking_top_mm"),
        fields.number("masking_bottom_mm"),
        fields.number("board_mm") if "board_mm" in fields.values else None,
        fields.pair("good_for_mm") if "good_for_mm" in fields.values else None,
    )


def _machine(fields: Fields) -> MachineClaim:
    x, y, z = fields.numbers("travel_mm", 3)
    spin_up = fields.number("spin_up_s")
    return MachineClaim((x, y, z), fields.text("spindle"), spin_up, fields.text("dwell_unit"))


def _program(fields: Fields, wider_mm: float) -> ProgramClaim:
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
        breaks=tuple(map(_break, fields.each("breaks"))) if "breaks" in fields.values else (),
    )


def _break(fields: Fields) -> BreakClaim:
    return BreakClaim(fields.pair("from"), fields.pair("to"), fields.number("left_mm"))


def _hinge(frame: Fields) -> HingeClaim | None:
    if frame.values.get("hinge") is None:
        return None
    fields = frame.inner("hinge")
    side = fields.text("side")
    if side not in SIDES:
        raise UnreadableFile(f"{REPORT_NAME} is not a kit's report: frame.hinge.side is no side.")
    return HingeClaim(side, fields.number("width_mm"))


def _skin(fields: Fields) -> SkinClaim | None:
    if fields.values.get("skin") is None:
        return None
    skin = fields.inner("skin")
    return SkinClaim(skin.number("thickness_mm"), round(skin.number("openings_through")))


def _nest(report: Fields) -> NestClaim | None:
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


def _drum(fields: Fields) -> DrumClaim:
    return DrumClaim(fields.number("above_mm"), fields.number("diameter_mm"))


def _clamp(fields: Fields) -> ClampClaim:
    is_round = fields.values.get("round") is True
    return ClampClaim(fields.pair("at"), fields.pair("size_mm"), fields.number("height_mm"), is_round)


def _film(fields: Fields) -> FilmClaim:
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
        tuple(map(_bridge, fields.each("joined"))) if "joined" in fields.values else (),
        tuple(map(_dropped, fields.each("filled"))) if "filled" in fields.values else (),
        _fine(fields.inner("fine")) if "fine" in fields.values else FineClaim(),
        _rim(fields.inner("rim")) if "rim" in fields.values else None,
        fields.text("made_of") if "made_of" in fields.values else "",
        None if fields.values.get("stencil") is None else _stencil(fields.inner("stencil")),
    )


def _stencil(fields: Fields) -> StencilClaim:
    loose = tuple(one.pair("at") for one in fields.each("loose"))
    return StencilClaim(fields.number("bridge_mm"), tuple(map(_bridge, fields.each("bridges"))), loose)


def _rim(fields: Fields) -> RimClaim:
    runs = tuple(RimRunClaim(run.pair("start"), run.pair("end")) for run in fields.each("runs"))
    return RimClaim(fields.word("how", RIM_WAYS), fields.number("widest_mm"), runs)


def _dropped(fields: Fields) -> DroppedClaim:
    return DroppedClaim(fields.pair("at"), fields.number("area_mm2"))


def _row(fields: Fields) -> RowClaim:
    glyphs = tuple(one.pair("at") for one in fields.each("glyphs"))
    if not glyphs:
        raise UnreadableFile(f"{REPORT_NAME} is not a kit's report: a row of lettering has no glyph.")
    about, shift = fields.pair("about"), fields.pair("shift_mm")
    return RowClaim(fields.text("film"), glyphs, about, fields.number("scale"), shift, fields.text("ground"))


def _bridge(fields: Fields) -> BridgeClaim:
    return BridgeClaim(fields.pair("from"), fields.pair("to"), fields.number("width_mm"))


def _fine(fields: Fields) -> FineClaim:
    moved = tuple(
        MovedClaim(one.pair("at"), one.word("why", MOVED_WHY), one.number("to_mm"))
        for one in fields.each("moved")
    )
    widths = fields.number("stroke_mm"), fields.number("gap_mm"), fields.number("most_mm")
    return FineClaim(*widths, moved)


def _relief(fields: Fields) -> ReliefClaim:
    wall = fields.pair("from"), fields.pair("at"), fields.pair("to")
    return ReliefClaim(wall, fields.number("reach_mm"))


def _tip(fields: Fields) -> TipClaim:
    return TipClaim(fields.pair("at"), fields.number("inset_mm"), fields.number("reach_mm"))


def _knife(fields: Fields) -> KnifeClaim:
    is_compensated = fields.values.get("compensated") is True
    return KnifeClaim(fields.number("offset_mm"), is_compensated, fields.number("overcut_mm"))


def _file(fields: Fields) -> FileClaim:
    film = fields.text("film") if "film" in fields.values else ""
    says = fields.text("says_sha256") if "says_sha256" in fields.values else ""
    return FileClaim(
        fields.text("role"), fields.text("format"), fields.text("path"), fields.text("sha256"), film, says
    )
