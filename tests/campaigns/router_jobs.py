"""A seeded campaign of router jobs: shapes x materials x bits x options, without pictures, films or papers.

Each gives a program that is read back and proven, or a stop that says why. Harm is a traceback, a rule that
is broken, an edge or a gouge beyond 0.01 mm, anything else that the proof stops, or what an oracle that
shares nothing with reader, proof and planner sees and the proof does not (program_oracle.py).

    python -m tests.campaigns.router_jobs --seed 1 --count 2000
"""

import math
import traceback
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from core.errors import BadShape
from core.findings import Finding, Level
from core.outline.region import Regions, mapped
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.copies import Motion
from core.proof.polygons import area_of, flat_ring
from core.proof.programs import prove_lap, prove_program
from core.proof.read_claims import claims_of
from core.router.bit import Bit
from core.router.board import Board, board_findings
from core.router.cutting import Cutting, Direction, TabRule
from core.router.lap import clearance_lap
from core.router.machine import Machine
from core.router.plan import RouterPlan, plan
from core.router.reach import AsCut, as_cut
from core.router.setup import Setup
from core.router.skin import skin_findings
from core.router.starting_values import starting_values
from core.sheet.clamp import Clamp
from core.sheet.lay_out import lay_out
from core.sheet.material import MATERIALS
from core.sheet.rows import CopiesWish
from core.sheet.rule import FitRule
from core.sheet.spindle_body import SpindleBody
from core.sheet.wish import StockWish
from tests.campaigns.program_oracle import FLAT, Work, faults
from tests.campaigns.tally import Tally, command
from tests.support.parts import any_part

BITS = (0.5, 0.8, 1.0, 1.5, 2.0, 3.0, 3.175, 6.0)
BOARD = Board(6.0, 0.1)


@dataclass(frozen=True, eq=False)
class RouterJob:
    """A part from its box's left bottom, and everything chosen for it."""

    part: Regions
    wish: StockWish
    rule: FitRule
    bit: Bit
    cutting: Cutting
    tab_rule: TabRule
    machine: Machine
    dialect: Dialect
    zero_at: tuple[float, float]
    is_on_board: bool


def router_job(seed: int, index: int) -> RouterJob:
    """The job of this number; the same for the same seed."""
    rng = np.random.default_rng((seed, index))
    part = any_part(rng)
    while not part:
        part = any_part(rng)
    material = MATERIALS[int(rng.integers(len(MATERIALS)))]
    thick = float(round(rng.choice([1.0, 1.5, 2.0, 3.0, 3.0, 4.0, 5.0, 6.0]) * rng.uniform(0.9, 1.1), 2))
    bit = Bit(
        float(rng.choice(BITS)), int(rng.integers(1, 3)), float(rng.choice([thick + 1.5, thick + 4, 8]))
    )
    has_lap = rng.random() < 0.75
    machine, held = _machine(rng), _tab_rule(rng, thick)
    return RouterJob(
        part=part,
        wish=_wish(rng, thick, bit, is_clear=material.is_clear),
        rule=FitRule(),
        bit=bit,
        cutting=_cutting(rng, material, bit, machine, has_lap=has_lap),
        tab_rule=held,
        machine=machine,
        dialect=_dialect(rng),
        zero_at=(0.5 * int(rng.integers(-40, 200)), 0.5 * int(rng.integers(-40, 200))),
        is_on_board=rng.random() < (0.95 if held.skin_mm else 0.4),
    )


def _machine(rng) -> Machine:
    travel = (300.0, 200.0, 50.0) if rng.random() < 0.5 else (600.0, 400.0, 80.0)
    return Machine(travel, 1000.0, float(rng.choice([10.0, 50.0, 300.0])), 30.0, 0.01, "program", 5.0)


def _wish(rng, thick: float, bit: Bit, *, is_clear: bool) -> StockWish:
    clamps = [
        Clamp((0.5 * int(rng.integers(0, 300)), 0.5 * int(rng.integers(0, 300))), (12.0, 20.0), 8.0)
        for _ in range(int(rng.integers(1, 4)) if rng.random() < 0.15 else 0)
    ]
    masking = float(rng.choice([0.0, 0.1]))
    copies = int(rng.integers(2, 5)) if rng.random() < 0.12 else 1
    return StockWish(
        width_mm=None,
        depth_mm=None,
        thickness_mm=thick,
        thickness_spread_mm=0.0,
        masking_top_mm=masking,
        masking_bottom_mm=masking,
        is_clear=is_clear,
        clamps=tuple(clamps),
        body=SpindleBody(bit.stick_out_mm + 8.0),
        copies=CopiesWish(copies, is_tight=rng.random() < 0.3),
    )


#: mm that cuts which open the frame leave, in every job that tabs hold.
BREAK_LEFT_MM = 1.0


def _cutting(rng, material, bit: Bit, machine: Machine, *, has_lap: bool) -> Cutting:
    rpm = float(rng.choice([6000.0, 10000.0, 18000.0]))
    table = starting_values(material, bit, rpm, machine.top_feed_mm_min)
    return Cutting(
        spindle_rpm=rpm,
        feed_mm_min=table.feed_mm_min,
        plunge_mm_min=table.plunge_mm_min,
        depth_per_pass_mm=table.depth_mm * float(rng.uniform(0.5, 2.5)),
        ramp_angle=math.radians(rng.uniform(0.5, 15.0)) if rng.random() < 0.3 else table.ramp_angle,
        skim_mm=float(round(rng.uniform(0.0, 0.8), 2)),
        safe_height_mm=float(rng.uniform(2.0, 12.0)),
        rough=Direction.CLIMB if rng.random() < 0.6 else Direction.CONVENTIONAL,
        has_last_lap=has_lap,
        allowance_mm=float(round(rng.uniform(0.0, 0.6), 2)) if has_lap else 0.0,
        material=material,
        break_left_mm=BREAK_LEFT_MM,
    )


def _tab_rule(rng, thick: float) -> TabRule:
    return TabRule(
        neck_mm=float(round(rng.uniform(0.5, 8.0), 1)),
        height_mm=float(round(rng.uniform(0.2, 0.7 * thick), 2)),
        spacing_mm=float(rng.uniform(20.0, 150.0)),
        least_count=int(rng.integers(2, 8)),
        placed=None,
        skin_mm=float(round(rng.uniform(0.2, 0.9), 2)) if rng.random() < 0.25 else 0.0,
    )


def _dialect(rng) -> Dialect:
    return Dialect(
        takes_arcs=rng.random() < 0.75,
        unit="mm" if rng.random() < 0.7 else "inch",
        has_line_numbers=rng.random() < 0.2,
        has_comments=rng.random() < 0.8,
        ending=str(rng.choice(["M2", "M30"])),
    )


def trial(job: RouterJob) -> tuple[str, str]:
    """What is wrong in words, or "", and what became of the job."""
    try:
        return _tried(job)
    except Exception as error:  # noqa: BLE001 - a defect of ours, told as one
        last = traceback.extract_tb(error.__traceback__)[-1]
        return f"a traceback: {error!r} in {last.filename}:{last.lineno}", "traceback"


def _tried(job: RouterJob) -> tuple[str, str]:
    reach = as_cut(job.part, job.bit)
    if not reach.regions:
        return "nothing is left of the part and nobody stopped", "traceback"
    travel, bit_mm = job.machine.travel_mm[:2], job.bit.diameter_mm
    layout = lay_out(reach.regions, job.wish, job.rule, bit_mm=bit_mm, travel_mm=travel, zero_at=job.zero_at)
    at = layout.shape_at
    placed = AsCut(_moved(reach.regions, at), (), _moved(reach.centres, at))
    made = plan(placed, layout, job.bit, job.cutting, job.tab_rule, job.machine)
    setup = Setup(layout, job.bit, job.cutting, job.tab_rule, job.machine)
    of_board = (
        *board_findings(setup, BOARD),
        *skin_findings(setup, BOARD, is_zeroed_on_board=job.is_on_board),
    )
    findings = (*reach.findings, *layout.findings, *made.findings, *of_board)
    stops = sorted({found.code for found in findings if found.level is Level.STOP})
    if stops:
        return "", f"stop {stops[0]}"
    return _proven(job, setup, made, _moved(job.part, at))


def _moved(regions: Regions, by: tuple[float, float]) -> Regions:
    return mapped(regions, lambda loop: loop.moved(*by))


def _proven(job: RouterJob, setup: Setup, made: RouterPlan, part: Regions) -> tuple[str, str]:
    layout, stock = setup.layout, setup.layout.stock
    shift = stock.thickness_mm + stock.masking_bottom_mm if job.is_on_board else 0.0
    zero = ProgramZero(layout.zero_at, shift)
    cutting = job.cutting
    data = write_program(
        made.toolpath, ("a job at random",), job.dialect, zero, Spindle(cutting.spindle_rpm, 5.0)
    )
    lap = write_program(clearance_lap(made.toolpath, setup), ("its lap",), job.dialect, zero, None)
    claims = claims_of(_report(job, setup, made, shift))
    outline = area_of(flat_ring(loop.points, loop.bulges) for region in part for loop in region.loops())
    motions = tuple(Motion(-1.0 if copy.is_turned else 1.0, copy.point((0.0, 0.0))) for copy in layout.copies)
    proof = prove_program(read_program(data), "part.nc", claims, outline, motions)
    found = (*proof.findings, *prove_lap(read_program(lap), "lap.nc", claims, outline).findings)
    if found:
        return _words(found), "not proven"
    seen = faults(data, _work(job, setup, made, part, shift))
    return ("the oracle sees: " + "; ".join(seen) if seen else ""), "program"


def _words(findings: tuple[Finding, ...]) -> str:
    return "; ".join(f"{one.code} ({one.text})" for one in findings[:2])


def _work(job: RouterJob, setup: Setup, made: RouterPlan, part: Regions, shift: float) -> Work:
    """What this program should do, by polygons of our own."""
    layout, radius = setup.layout, job.bit.radius_mm
    stock, (zero_x, zero_y) = layout.stock, layout.zero_at
    solid = shapely.MultiPolygon(
        [
            (region.outer.flattened(FLAT), [ring.flattened(FLAT) for ring in region.openings])
            for region in part
        ]
    )
    closed = solid.buffer(radius, quad_segs=256).buffer(-radius - FLAT, quad_segs=256)
    reached = solid.boundary.difference(closed)
    every = [
        [shapely.affinity.rotate(one, 180.0 * copy.is_turned, origin=(0.0, 0.0)) for one in (solid, reached)]
        for copy in layout.copies
    ]
    placed = [
        [shapely.affinity.translate(one, *np.subtract(copy.at, layout.zero_at)) for one in pair]
        for pair, copy in zip(every, layout.copies, strict=True)
    ]
    bed, has_skin = shift - stock.thickness_mm, setup.has_skin
    crest = job.tab_rule.skin_mm if has_skin else max((tab.height_mm for tab in made.tabs), default=0.0)
    return Work(
        part=shapely.union_all([pair[0] for pair in placed]),
        reachable=shapely.union_all([pair[1] for pair in placed]),
        sheet=(-zero_x, -zero_y, stock.width_mm - zero_x, stock.depth_mm - zero_y),
        bit_mm=job.bit.diameter_mm,
        crest_z=bed + crest + 1e-3,
        bottom_z=bed,
        floor_z=bed - job.cutting.skim_mm,
        top_z=shift,
        cover_z=shift + stock.masking_top_mm,
        is_through=not has_skin,
    )


def _report(job: RouterJob, setup: Setup, made: RouterPlan, shift: float) -> dict:
    """What the kit's report would claim of this program."""
    layout, stock, cutting = setup.layout, setup.layout.stock, job.cutting
    skin = {"thickness_mm": job.tab_rule.skin_mm, "openings_through": made.openings_through}
    return {
        "report": 1,
        "height_mm": 1.0,
        "width_mm": 1.0,
        "pieces": len(layout.copies),
        "frame": {
            "zero_at": list(layout.zero_at),
            "z_zero": "spoil board" if job.is_on_board else "stock top",
            "mirror_x": None,
            "hinge": (
                {"side": layout.hinge_side, "width_mm": layout.hinge_mm} if layout.hinge_side else None
            ),
        },
        "marks": [
            {
                "at": list(mark.at),
                "diameter_mm": mark.diameter_mm,
                "film_diameter_mm": mark.film_diameter_mm,
                "kind": mark.kind,
            }
            for mark in layout.marks
        ],
        "stock": {
            "width_mm": stock.width_mm,
            "depth_mm": stock.depth_mm,
            "thickness_mm": stock.thickness_mm,
            "masking_top_mm": stock.masking_top_mm,
            "masking_bottom_mm": stock.masking_bottom_mm,
        },
        "machine": {
            "travel_mm": list(job.machine.travel_mm),
            "spindle": "program",
            "spin_up_s": 5.0,
            "dwell_unit": "s",
        },
        "clamps": [
            {"at": list(clamp.at), "size_mm": list(clamp.size_mm), "height_mm": clamp.height_mm}
            for clamp in layout.clamps
        ],
        "program": {
            "bit_mm": job.bit.diameter_mm,
            "above_tip": [
                {"above_mm": drum.above_tip_mm, "diameter_mm": drum.diameter_mm} for drum in setup.drums()
            ],
            "safe_z_mm": made.safe_z_mm + shift,
            "bottom_z_mm": made.bottom_z_mm + shift,
            "depth_per_pass_mm": cutting.depth_per_pass_mm,
            "tabs": [
                {
                    "at": list(tab.at),
                    "neck_mm": tab.neck_mm,
                    "wall_mm": tab.wall_mm,
                    "height_mm": tab.height_mm,
                }
                for tab in made.tabs
            ],
            "breaks": [
                {"from": list(cut.start), "to": list(cut.end), "left_mm": cut.left_mm} for cut in made.breaks
            ],
            "skin": skin if job.tab_rule.skin_mm else None,
            "feed_mm_min": cutting.feed_mm_min,
            "plunge_mm_min": cutting.plunge_mm_min,
            "spindle_rpm": cutting.spindle_rpm,
        },
        "films": [],
        "files": [],
    }


def numbered(seed: int, count: int, first: int = 0) -> Iterator[tuple[int, RouterJob]]:
    """count jobs with their numbers."""
    for index in range(first, first + count):
        try:
            yield index, router_job(seed, index)
        except BadShape:  # the generator's own shape was none; the next number is another
            continue


def campaign(seed: int, count: int, first: int = 0) -> Tally:
    """count jobs tried; caught is what is as it should be."""
    tally = Tally()
    for index, job in numbered(seed, count, first):
        wrong, became = trial(job)
        tally.count(became, f"{index}: {wrong}" if wrong else "", "" if wrong else became, is_dress=False)
    return tally


if __name__ == "__main__":
    command(__doc__ or "", campaign, 2000)
