"""The program of a nest board, and what the report says of the board."""

from dataclasses import asdict
from typing import Any

from core.build import Build
from core.job.resolve import board_cutting, router_correction
from core.kit.dialect import dialect_of, motion_seconds
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.travel import travel_in
from core.nest.contacts import CLEARANCE_MM
from core.nest.nest import Nest
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.router.corrected import corrected
from core.router.extents import extents_of
from core.router.toolpath import Toolpath

Json = dict[str, Any]


def nest_file(made: Build, nest: Nest, names: KitNames) -> KitFile:
    """Counted from the board's left near corner, Z from its top; corrected for the router like the part's."""
    job, dialect = made.job, dialect_of(made.job)
    spindle = Spindle(board_cutting(job).spindle_rpm, job.machine.spin_up.value)
    zero = ProgramZero(nest.board.at, 0.0)
    data = write_program(as_written(made, nest), _head(made, nest, names), dialect, zero, spindle)
    name = names.named("nest-Ztop", dialect.extension.removeprefix("."))
    return KitFile(FileRole.NEST_PROGRAM, "rs274", name, data)


def nest_lap_file(made: Build, nest: Nest, names: KitNames) -> KitFile:
    """The raised bit round all that the board's program sweeps, spindle off, from the board's own zero."""
    dialect, correction = dialect_of(made.job), router_correction(made.job)
    path = corrected(nest.lap, correction, nest.board.at)
    head = (
        f"{names.base()}: clearance lap of the nest board",
        "spindle off, bit raised: see that it passes clear",
    )
    data = write_program(path, head, dialect, ProgramZero(nest.board.at, 0.0), None)
    name = names.named("nest-lap-Ztop", dialect.extension.removeprefix("."))
    return KitFile(FileRole.NEST_LAP, "rs274", name, data)


def as_written(made: Build, nest: Nest) -> Toolpath:
    """The path with the router's measured errors made good about the board's own zero."""
    return corrected(nest.toolpath, router_correction(made.job), nest.board.at)


def _head(made: Build, nest: Nest, names: KitNames) -> tuple[str, ...]:
    board, job = nest.board, made.job
    seconds = motion_seconds(nest.toolpath, job)
    return (
        f"{names.base()}: nest board",
        f"board {board.width_mm:g} x {board.depth_mm:g} x {board.thickness_mm:g} mm {job.fit.board_material}",
        f"bit {job.bit.diameter.value:g} mm, {board_cutting(job).spindle_rpm:g} rpm",
        "X0 Y0: the board's left near corner",
        "Z0: the board's top",
        f"pocket {nest.pocket_depth_mm:.2f} mm deep, pin holes {nest.mark_depth_mm:.2f} mm",
        f"motion {seconds / 60.0:.1f} min",
        "starting values: the makers of machine, bit and board come first",
    )


def nest_entry(made: Build) -> Json | None:
    """The report's words on the board, which the proof is held against; null where there is none."""
    nest = made.nest
    if nest is None:
        return None
    board, cutting = nest.board, board_cutting(made.job)
    deepest = max(nest.pocket_depth_mm, nest.mark_depth_mm)
    return {
        "board_mm": [board.width_mm, board.depth_mm, board.thickness_mm],
        "zero_at": list(board.at),
        "pocket_depth_mm": nest.pocket_depth_mm,
        "mark_depth_mm": nest.mark_depth_mm,
        "clearance_mm": CLEARANCE_MM,
        "play_mm": nest.play_mm,
        "bit_mm": made.job.bit.diameter.value,
        "safe_z_mm": nest.safe_z_mm,
        "depth_per_pass_mm": cutting.depth_per_pass_mm,
        "feed_mm_min": cutting.feed_mm_min,
        "plunge_mm_min": cutting.plunge_mm_min,
        "spindle_rpm": cutting.spindle_rpm,
        "motion_time_s": motion_seconds(nest.toolpath, made.job),
        "travel_mm": asdict(
            travel_in(extents_of(as_written(made, nest)), board.at, (nest.safe_z_mm, -deepest))
        ),
    }
