"""The router programs of a kit, read from their bytes: rules, the part left, marks and tabs.

A program counts from the work zero; everything here is turned to the kit's frame before it is compared.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.errors import UnreadableFile
from core.findings import Finding
from core.program.read.program import Program
from core.program.read.read import read_program
from core.proof.breaks import break_findings, line_of
from core.proof.claims import Claims, ClampClaim, DrumClaim, MachineClaim, ProgramClaim, TabClaim
from core.proof.copies import Motion, nearness_findings
from core.proof.correction import undone_program
from core.proof.found import turned_back
from core.proof.good_for import window_findings
from core.proof.gouges import gouge_findings
from core.proof.limits import Limits, RulesReport, Zone
from core.proof.marks import bored_mark_error, mark_findings
from core.proof.part import PartEdge, judge_closely, judge_edge, left_of
from core.proof.program_copies import first_tabs, owned
from core.proof.readback import TAB_WITHIN, RuleCount, breach
from core.proof.removal import FLATNESS, swept_below, swept_flush
from core.proof.rules import judge, zone_rule
from core.proof.skin_claims import BEGUN, Skinned, skin_findings
from core.proof.stair import stair_findings
from core.proof.standing import Loose, loose_pieces, pieces_left
from core.proof.tab_claims import tab_findings
from core.proof.tabs_left import SLIVER, TabLeft, tabs_left

#: mm above what covers the stock from which a ramp may begin.
RAMP_FROM = 0.2
#: rpm: the spindle stays off.
NO_SPINDLE = 0.0
#: mm; a chord of the second look at an edge leaves its arc by no more.
FINER = FLATNESS / 10.0
#: The first copy lies where it is.
WHERE_IT_IS = Motion(1.0, (0.0, 0.0))


@dataclass(frozen=True)
class ProgramProof:
    """What the part program leaves (in the frame), and everything that was found on the way."""

    part: PartEdge
    mark_error_mm: float
    rules: RuleCount
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class LapProof:
    """Whether the clearance lap keeps up and keeps the spindle off."""

    rules: RuleCount
    findings: tuple[Finding, ...]


def read_named(files: Mapping[str, bytes], path: str) -> Program:
    """The program of that name. Raises UnreadableFile, which names the file."""
    if path not in files:
        raise UnreadableFile(f"{path} is missing.")
    try:
        return read_program(files[path])
    except UnreadableFile as error:
        raise UnreadableFile(f"{path}: {error}") from error


def prove_program(
    program: Program,
    path: str,
    claims: Claims,
    outline: BaseGeometry,
    motions: tuple[Motion, ...] = (WHERE_IT_IS,),
) -> ProgramProof:
    """The part program against the outline and the report's claims.

    motions: where the copies lie of the piece whose outline this is; when all are cut alike, the first one
    is looked at closely, and the sheet as a whole for what comes loose between them.
    """
    rules = _judged(program, part_limits(claims, _claim(claims)), claims)
    program = in_place(program, claims)
    every = shapely.union_all([motion.area(outline) for motion in motions])
    opened = break_findings(path, program, claims, every)
    proof = _of_all(program, rules, path, claims, outline, motions)
    return replace(proof, findings=(*proof.findings, *opened))


def _of_all(
    program: Program,
    rules: RulesReport,
    path: str,
    claims: Claims,
    outline: BaseGeometry,
    motions: tuple[Motion, ...],
) -> ProgramProof:
    """One piece as it is left; of several that are cut alike the first one, and what lies between them."""
    if len(motions) == 1:
        return _proven(program, rules, path, claims, outline)
    own = owned(program, claims.zero_at, outline, motions, claims.bored, _claim(claims).breaks)
    tabs = first_tabs(_claim(claims).tabs, outline, motions)
    if own is None or tabs is None:
        every = shapely.union_all([motion.area(outline) for motion in motions])
        return _proven(program, rules, path, claims, every)
    first = replace(claims, program=replace(_claim(claims), tabs=tabs))
    proof = _proven(own.of_first(program), rules, path, first, outline)
    between = _loose_between(own.of_first(program), path, claims, motions)
    near = nearness_findings(outline, motions, _claim(claims).bit_mm)
    return replace(proof, findings=(*proof.findings, *between, *near))


def tabs_of_first(claims: Claims, outline: BaseGeometry, motions: tuple[Motion, ...]) -> tuple[TabClaim, ...]:
    """The claimed tabs of the first copy; all of them where the copies' are not alike."""
    if claims.program is None:
        return ()
    every = claims.program.tabs
    own = first_tabs(every, outline, motions) if len(motions) > 1 else every
    return every if own is None else own


def in_place(program: Program, claims: Claims) -> Program:
    """The program as it lies on the sheet: the router's correction undone, then where the sheet was found."""
    return turned_back(undone_program(program, claims.router), claims.found)


def _judged(program: Program, limits: Limits, claims: Claims) -> RulesReport:
    """Every rule on the program as it is written, the clamps on it as it lies on the sheet."""
    if claims.found is None and claims.router is None:
        return judge(program, limits)
    written = judge(program, replace(limits, zones=()))
    beside = zone_rule(in_place(program, claims), limits)
    return RulesReport(written.checked + beside.checked, (*written.broken, *beside.broken))


def _claim(claims: Claims) -> ProgramClaim:
    assert claims.program is not None  # noqa: S101 - the caller has a program to prove
    return claims.program


def _loose_between(
    program: Program, path: str, claims: Claims, motions: tuple[Motion, ...]
) -> tuple[Finding, ...]:
    """What comes loose of the whole sheet, when what the first copy takes is taken for every copy."""
    bottom = claims.top_z_mm - claims.stock.thickness_mm
    through = _in_frame(swept_below(program, _claim(claims).bit_mm, bottom), claims)
    pieces = shapely.get_parts(through)
    marks = shapely.multipoints([mark.at for mark in claims.bored]) if claims.bored else shapely.Point()
    holes, slots = pieces[shapely.intersects(pieces, marks)], pieces[~shapely.intersects(pieces, marks)]
    taken = shapely.union_all(slots)
    gone = shapely.union_all([*holes, *(motion.area(taken) for motion in motions)])
    stock = shapely.box(0.0, 0.0, claims.stock.width_mm, claims.stock.depth_mm)
    return tuple(
        breach(
            "comes-loose",
            f"{path}: a piece of {piece.area:.1f} mm2 comes loose between the copies, held by nothing.",
            (piece.representative_point().x, piece.representative_point().y),
        )
        for piece in pieces_left(stock, gone).free
    )


def _proven(
    program: Program, rules: RulesReport, path: str, claims: Claims, outline: BaseGeometry
) -> ProgramProof:
    """What one piece's moves leave of the sheet, and what is told of the whole program's rules."""
    claim = claims.program
    assert claim is not None  # noqa: S101 - the caller has a program to prove
    bottom = claims.top_z_mm - claims.stock.thickness_mm
    crest = claim.skin.thickness_mm if claim.skin else max((tab.height_mm for tab in claim.tabs), default=0.0)
    stock = shapely.box(0.0, 0.0, claims.stock.width_mm, claims.stock.depth_mm)
    part = _edge_left(path, program, claims, outline, crest)
    through = _in_frame(swept_below(program, claim.bit_mm, bottom), claims)
    mark_error = bored_mark_error(through, claims.bored)
    sheet = _in_program(stock, claims)
    loose = loose_pieces(program, sheet, claim.bit_mm, bottom)
    if claim.skin:
        held = skin_findings(path, _skinned(program, part, through, claims), claim.skin)
        tabs: tuple[TabLeft, ...] = ()
    else:
        tabs = tabs_left(program, sheet, claim.bit_mm, bottom, crest, _opened(claims))
        held = tab_findings(path, tabs, claims)
    return ProgramProof(
        part,
        mark_error,
        counted(path, [rules]),
        (
            *part.findings,
            *mark_findings(path, mark_error),
            *rule_findings(path, rules),
            *held,
            *window_findings(path, program, _in_program(through, claims), tabs, claims),
            *(_loose_finding(path, piece, claims) for piece in loose),
            *_gouges(path, program, part, claims),
            *stair_findings(path, program, claim.stair, claim.bit_mm, (claims.zero_at, claims.top_z_mm)),
        ),
    )


def _edge_left(path: str, program: Program, claims: Claims, outline: BaseGeometry, crest: float) -> PartEdge:
    """The part's edge as it is left; what seems off is looked at again with finer chords.

    A chord that misses its arc by e moves a tip of angle t by e / sin(t / 2): a tip of two degrees seems to
    lose a hundredth when nothing is missing. What is truly off stays so.
    """
    stock = shapely.box(0.0, 0.0, claims.stock.width_mm, claims.stock.depth_mm)
    bottom, bit_mm = claims.top_z_mm - claims.stock.thickness_mm, _claim(claims).bit_mm

    def left(flatness: float) -> BaseGeometry:
        flush = _in_frame(swept_flush(program, bit_mm, bottom, crest, flatness), claims)
        return left_of(stock, flush, outline)

    part = judge_edge(path, left(FLATNESS), outline, bit_mm)
    return judge_closely(path, left(FINER), outline, bit_mm) if part.findings else part


def _opened(claims: Claims) -> BaseGeometry | None:
    """Where break cuts leave a bottom that is no tab, in the program's coordinates."""
    claim = _claim(claims)
    if not claim.breaks:
        return None
    lines = [line_of(cut) for cut in claim.breaks]
    return _in_program(shapely.union_all(shapely.buffer(lines, claim.bit_mm / 2.0 + SLIVER)), claims)


def _skinned(program: Program, part: PartEdge, through: BaseGeometry, claims: Claims) -> Skinned:
    """What is gone at the depths that tell a skin, in the frame."""
    claim = _claim(claims)
    assert claim.skin is not None  # noqa: S101 - the caller has a skin to prove
    skin_z = claims.top_z_mm - claims.stock.thickness_mm + claim.skin.thickness_mm
    begun, above, below = (
        _in_frame(swept_below(program, claim.bit_mm, z), claims)
        for z in (claims.top_z_mm - BEGUN, skin_z + TAB_WITHIN, skin_z - TAB_WITHIN)
    )
    discs = [shapely.Point(mark.at).buffer(mark.diameter_mm / 2.0) for mark in claims.bored]
    return Skinned(part.left, shapely.union_all(discs), begun, above, below, through)


def _gouges(path: str, program: Program, part: PartEdge, claims: Claims) -> tuple[Finding, ...]:
    """Cuts into the part, told in the frame."""
    left = _in_program(part.left, claims)
    found = gouge_findings(path, program, left, _claim(claims).bit_mm, claims.top_z_mm)
    x, y = claims.zero_at
    return tuple(replace(one, at=(one.at[0] + x, one.at[1] + y) if one.at else None) for one in found)


def _loose_finding(path: str, loose: Loose, claims: Claims) -> Finding:
    x, y = loose.at
    text = f"{path}, line {loose.line}: a piece of {loose.piece.area:.1f} mm2 comes loose, held by nothing."
    return breach("comes-loose", text, (x + claims.zero_at[0], y + claims.zero_at[1]))


def prove_lap(
    program: Program, path: str, claims: Claims, outline: BaseGeometry, motions: tuple[Motion, ...] = ()
) -> LapProof:
    """The clearance lap against its own rules; it cuts nothing, so the outlines do not matter to it."""
    del outline, motions
    claim = claims.program
    assert claim is not None  # noqa: S101 - the caller has a program to prove
    rules = _judged(program, lap_limits(claims, claim, claims.machine), claims)
    return LapProof(counted(path, [rules]), rule_findings(path, rules))


def part_limits(claims: Claims, claim: ProgramClaim) -> Limits:
    """What the part program is held to."""
    machine = claims.machine
    return Limits(
        safe_z_mm=claim.safe_z_mm,
        stock_top_z_mm=claims.top_z_mm,
        bottom_z_mm=claim.bottom_z_mm,
        travel_mm=machine.travel_mm,
        spindle_rpm=claim.spindle_rpm,
        spin_up_s=machine.spin_up_s,
        dwell_unit=machine.dwell_unit,
        feed_mm_min=claim.feed_mm_min,
        plunge_mm_min=claim.plunge_mm_min,
        bit_mm=claim.bit_mm,
        depth_per_pass_mm=claim.depth_per_pass_mm,
        ramp_above_mm=claims.stock.masking_top_mm + RAMP_FROM,
        zones=clamp_zones(claims, claim),
    )


def clamp_zones(claims: Claims, claim: ProgramClaim) -> tuple[Zone, ...]:
    """Every clamp once for each drum that turns above the tip: there the tip must be higher."""
    drums = claim.drums or (DrumClaim(0.0, claim.bit_mm),)
    return tuple(_zone(clamp, drum, claims) for clamp in claims.clamps for drum in drums)


def _zone(clamp: ClampClaim, drum: DrumClaim, claims: Claims) -> Zone:
    x, y = np.subtract(clamp.at, claims.zero_at).tolist()
    half_wide, half_deep = clamp.size_mm[0] / 2.0, clamp.size_mm[1] / 2.0
    top = claims.top_z_mm + clamp.height_mm - drum.above_mm
    return Zone(
        x - half_wide, y - half_deep, x + half_wide, y + half_deep, top, drum.diameter_mm, clamp.is_round
    )


def lap_limits(claims: Claims, claim: ProgramClaim, machine: MachineClaim) -> Limits:
    """What the clearance lap is held to: never below the safe height, the spindle never on."""
    return Limits(
        safe_z_mm=claim.safe_z_mm,
        stock_top_z_mm=claims.top_z_mm,
        bottom_z_mm=claim.safe_z_mm,
        travel_mm=machine.travel_mm,
        spindle_rpm=NO_SPINDLE,
        bit_mm=claim.bit_mm,
        depth_per_pass_mm=claim.depth_per_pass_mm,
        ramp_above_mm=claims.stock.masking_top_mm + RAMP_FROM,
        zones=clamp_zones(claims, claim),
    )


def rule_findings(path: str, report: RulesReport) -> tuple[Finding, ...]:
    """A stop for every rule that is broken, with the line."""
    return tuple(
        breach(each.code, f"{path}, line {each.line}: {each.text}.", each.at[:2] if each.at else None)
        for each in report.broken
    )


def counted(path: str, reports: Sequence[RulesReport]) -> RuleCount:
    """How often rules were looked at, and what was broken, in words."""
    broken = [f"{path}, line {each.line}: {each.text}" for report in reports for each in report.broken]
    return RuleCount(sum(report.checked for report in reports), tuple(broken))


def _in_program(area: BaseGeometry, claims: Claims) -> BaseGeometry:
    return shapely.transform(area, lambda points: np.subtract(points, claims.zero_at))


def _in_frame(area: BaseGeometry, claims: Claims) -> BaseGeometry:
    return shapely.transform(area, lambda points: np.add(points, claims.zero_at))
