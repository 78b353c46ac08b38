"""How long the router's side takes: the path of the demo, of sixty pieces; programs of many lines.

Seconds are those of one processor, the median of several runs; the most memory is that of the whole process.

    python -m tests.bench.router [--runs 5] [--only demo|sixty|lines|millions]
"""

import argparse
import math
import resource
from collections.abc import Callable
from multiprocessing import get_context
from statistics import median
from time import process_time

from shapely.geometry.base import BaseGeometry

from core.build import build, in_frame
from core.job.resolve import bit_of, cutting_of, machine_of, tab_rule
from core.kit.inspect import inspect_bytes
from core.outline.region import Region, Regions
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.claims import Claims
from core.proof.polygons import area_of, flat_ring
from core.proof.programs import prove_program
from core.proof.read_claims import claims_of
from core.router.bit import Bit
from core.router.cutting import Cutting, Direction, TabRule
from core.router.machine import Machine
from core.router.plan import plan
from core.router.reach import AsCut, as_cut
from core.sheet.layout import Layout
from core.sheet.stock import Stock
from tests.bench.inputs import INPUTS
from tests.support.shapes import wave

LINES = 200_000
BIT, TABS = Bit(2.0, 1, 6.0), TabRule(3.0, 0.8, 60.0, 4, None)
CUTTING = Cutting(10000, 400, 80, 0.7, math.radians(2.5), 0.3, 5, Direction.CLIMB, True, 0.2)
MACHINE = Machine((900.0, 900.0, 50.0), 1000, 50, 30, 0.01, "program", 5)


def timed(work: Callable[[], object], runs: int) -> float:
    """Median seconds."""
    seconds = []
    for _ in range(runs):
        begun = process_time()
        work()
        seconds.append(process_time() - begun)
    return median(seconds)


def sheet(width: float, depth: float) -> Layout:
    """A bare sheet of 3 mm."""
    return Layout(Stock(width, depth, 3.0, 0.0, 0.1, 0.1, True), (0.0, 0.0), (), (0.0, 0.0), 0.0, "", ())


def demo_path(runs: int) -> list[str]:
    """The path of the demo, at 118 mm."""
    job, source = INPUTS["demo"]()
    made = build(job.with_choice("shape.height", "118 mm"), source)
    placed = AsCut(made.as_cut, (), in_frame(made.reach.centres, made.layout))
    wanted = made.job
    tools = (bit_of(wanted), cutting_of(wanted), tab_rule(wanted, made.place), machine_of(wanted))
    seconds = timed(lambda: plan(placed, made.layout, *tools), runs)
    return [f"toolpath for the demo: {seconds:.3f} s, {len(made.path.toolpath.ends)} moves (at most 0.15 s)"]


def sixty_pieces(runs: int) -> list[str]:
    """Sixty pieces of 200 segments on one sheet."""
    part: Regions = tuple(
        Region(wave(200, 22.0, 3.0, 5 + (n % 4), (30.0 + 56.0 * (n % 10), 30.0 + 56.0 * (n // 10))))
        for n in range(60)
    )
    reach = as_cut(part, BIT)
    layout = sheet(600.0, 400.0)
    whole = timed(lambda: as_cut(part, BIT), runs)
    seconds = timed(lambda: plan(reach, layout, BIT, CUTTING, TABS, MACHINE), runs)
    told = f"toolpath for 60 pieces of 200 segments: {seconds:.2f} s (at most 3 s)"
    return [f"{told}, and {whole:.2f} s for their as-cut edges"]


def long_program() -> tuple[bytes, Claims, BaseGeometry]:
    """A program of at least LINES lines: a wavy part in short chords and thin passes; what it claims."""
    loop = wave(720, 48.0, 4.0, 9, (60.0, 60.0), bulge=0.02)
    part = (Region(loop),)
    layout = sheet(120.0, 120.0)
    cutting = Cutting(10000, 400, 80, 0.0445, math.radians(2.5), 0.3, 5, Direction.CLIMB, True, 0.2)
    made = plan(as_cut(part, BIT), layout, BIT, cutting, TABS, MACHINE)
    dialect = Dialect(takes_arcs=False, chord_tolerance_mm=0.0005)
    data = write_program(made.toolpath, ("long",), dialect, ProgramZero(), Spindle(10000.0, 5.0))
    tabs = [
        {"at": list(tab.at), "neck_mm": tab.neck_mm, "wall_mm": tab.wall_mm, "height_mm": tab.height_mm}
        for tab in made.tabs
    ]
    claims = claims_of(
        {
            "report": 1, "height_mm": 1.0, "width_mm": 1.0, "marks": [], "films": [], "files": [],
            "frame": {"zero_at": [0.0, 0.0], "z_zero": "stock top", "mirror_x": None},
            "stock": {"width_mm": 120.0, "depth_mm": 120.0, "thickness_mm": 3.0, "masking_top_mm": 0.1,
                      "masking_bottom_mm": 0.1},
            "machine": {"travel_mm": [900.0, 900.0, 50.0], "spindle": "program", "spin_up_s": 5.0,
                        "dwell_unit": "s"},
            "program": {"bit_mm": 2.0, "safe_z_mm": made.safe_z_mm, "bottom_z_mm": made.bottom_z_mm,
                        "tabs": tabs, "feed_mm_min": 400.0, "plunge_mm_min": 80.0, "spindle_rpm": 10000.0,
                        "depth_per_pass_mm": 0.0445},
        }
    )  # fmt: skip
    return data, claims, area_of([flat_ring(loop.points, loop.bulges)])


def long_read(runs: int) -> list[str]:
    """Reading and proving it in a process of its own, and the most memory that it took."""
    made = long_program()
    with get_context("spawn").Pool(1) as alone:
        return alone.apply(read_and_proven, (*made, runs))


def read_and_proven(data: bytes, claims: Claims, outline: BaseGeometry, runs: int) -> list[str]:
    """What reading and proving these bytes took."""
    reading = timed(lambda: read_program(data), runs)
    program = read_program(data)
    found = prove_program(program, "long.nc", claims, outline).findings
    proving = timed(lambda: prove_program(program, "long.nc", claims, outline), runs)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    lines = data.count(b"\n")
    told = f"a program of {lines} lines: read {reading:.2f} s, proven {proving:.2f} s (at most 4 s)"
    return [
        f"{told}; most memory of the process {most:.0f} MB (at most 400 MB); findings: {len(found)}",
        *(f"  {one.code}: {one.text}" for one in found[:3]),
    ]


def two_millions(runs: int) -> list[str]:
    """A program of two million lines, as `samecut inspect` takes it, in a process of its own; once."""
    del runs
    turns = (index * 2.0 * math.pi / 5000.0 for index in range(2_000_000))
    places = ((turn, 40.0 + 4.0 * math.sin(9.0 * turn)) for turn in turns)
    moves = (f"G1 X{50.0 + r * math.cos(a):.3f} Y{50.0 + r * math.sin(a):.3f}\n" for a, r in places)
    head, end = "G21 G90 G17 G94\nM3 S10000\nG0 Z5\nG0 X50 Y50\nG1 Z-1 F100\nF400\n", "G0 Z5\nM5\nM2\n"
    with get_context("spawn").Pool(1) as alone:
        return alone.apply(inspected, ("".join((head, *moves, end)).encode(),))


def inspected(data: bytes) -> list[str]:
    """What it took to inspect these bytes, and what was found."""
    begun = process_time()
    entry, findings = inspect_bytes(data, "millions.nc")
    seconds = process_time() - begun
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    lines, told = data.count(b"\n"), f"{len(findings)} findings, {len(entry)} fields"
    return [f"a program of {lines} lines inspected: {seconds:.1f} s, most memory {most:.0f} MB; {told}"]


WORK = {"demo": demo_path, "sixty": sixty_pieces, "lines": long_read, "millions": two_millions}

if __name__ == "__main__":
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only", choices=sorted(WORK))
    asked = parser.parse_args()
    for name, measure in WORK.items():
        if asked.only in (None, name):
            print("\n".join(measure(asked.runs)))  # noqa: T201 - asked for
