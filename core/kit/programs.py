"""The router programs of a Build: what their heads say, their zero, and their dialect."""

from dataclasses import dataclass
from math import degrees

from core.build import Build
from core.job.job import Job
from core.job.resolve import bit_of, board_of, cutting_of, machine_of, router_correction, tab_rule
from core.kit.dialect import dialect_of, motion_seconds
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.nest_program import nest_file, nest_lap_file
from core.kit.travel import travel_in
from core.paper.numbers import Travel
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.router.corrected import corrected
from core.router.extents import extents_of
from core.router.good_for import GoodFor, good_for
from core.router.lap import clearance_lap
from core.router.posed import posed
from core.router.setup import Setup
from core.router.toolpath import Toolpath

STOCK_TOP, SPOIL_BOARD = "stock top", "spoil board"


@dataclass(frozen=True)
class ProgramSet:
    """Both programs, and what was reckoned for them."""

    files: tuple[KitFile, ...]
    seconds: float


def z_zero_of(job: Job) -> str:
    """The surface on which Z is zeroed, in the words of the report."""
    return SPOIL_BOARD if job.stock.z_zero == "board" else STOCK_TOP


def z_shift_of(made: Build) -> float:
    """What is added to z above the stock's bare top: nothing, or all that lies on the board, mm."""
    stock = made.layout.stock
    return stock.thickness_mm + stock.masking_bottom_mm if made.job.stock.z_zero == "board" else 0.0


def setup_of(made: Build) -> Setup:
    """Everything chosen for the router."""
    job = made.job
    return Setup(made.layout, bit_of(job), cutting_of(job), tab_rule(job, made.place), machine_of(job))


def window_of(made: Build) -> GoodFor:
    """How thick the sheet may really be."""
    return good_for(setup_of(made), board_of(made.job), is_zeroed_on_board=made.job.stock.z_zero == "board")


def write_programs(made: Build, names: KitNames) -> ProgramSet:
    """The part program and the clearance lap."""
    job, setup = made.job, setup_of(made)
    dialect = dialect_of(job)
    zero = ProgramZero(made.layout.zero_at, z_shift_of(made), z_zero_of(job))
    seconds = motion_seconds(made.path.toolpath, job)
    spindle = Spindle(setup.cutting.spindle_rpm, setup.machine.spin_up_s)
    path, lap_path = found_path(made), _as_written(clearance_lap(made.path.toolpath, setup), made)
    part = write_program(path, _head(made, names, seconds), dialect, zero, spindle)
    lap = write_program(lap_path, _lap_head(names), dialect, zero, None)
    where = "Zboard" if job.stock.z_zero == "board" else "Ztop"
    ending = dialect.extension.removeprefix(".")
    files = [
        KitFile(FileRole.PART_PROGRAM, "rs274", names.named(f"part-{where}", ending), part),
        KitFile(FileRole.CLEARANCE_LAP, "rs274", names.named(f"lap-{where}", ending), lap),
    ]
    if raised := job.cutting.air_cut.value:
        above = ProgramZero(zero.at, zero.z_shift_mm + raised, zero.surface)
        air = write_program(path, _air_head(names, raised), dialect, above, spindle)
        files.append(KitFile(FileRole.AIR_CUT, "rs274", names.named(f"air-{where}", ending), air))
    if made.nest is not None:
        files += [nest_file(made, made.nest, names), nest_lap_file(made, made.nest, names)]
    return ProgramSet(tuple(files), seconds)


def found_path(made: Build) -> Toolpath:
    """The path as it is written: turned and shifted to where the sheet was found, then corrected."""
    return _as_written(made.path.toolpath, made)


def travel_of(made: Build) -> Travel:
    """How far the bit of the part program goes each way from the work zero, as it is written."""
    shift = z_shift_of(made)
    heights = (made.path.safe_z_mm + shift, made.path.bottom_z_mm + shift)
    return travel_in(extents_of(found_path(made)), made.layout.zero_at, heights)


def _as_written(toolpath: Toolpath, made: Build) -> Toolpath:
    zero_at = made.layout.zero_at
    return corrected(posed(toolpath, made.found.pose, zero_at), router_correction(made.job), zero_at)


def _head(made: Build, names: KitNames, seconds: float) -> tuple[str, ...]:
    """What this program is, in words; no date, so that the same Job gives the same bytes."""
    stock, setup, window = made.layout.stock, setup_of(made), window_of(made)
    x, y = made.layout.zero_at
    return (
        f"{names.base()}: part",
        *([f"pieces: {len(made.layout.copies)}"] if len(made.layout.copies) > 1 else []),
        f"shape {made.shape.size_mm[0]:.2f} x {made.shape.size_mm[1]:.2f} mm",
        f"stock {stock.width_mm:g} x {stock.depth_mm:g} x {stock.thickness_mm:.2f} mm",
        f"good for {window.thinnest_mm:.2f} to {window.thickest_mm:.2f} mm",
        f"bit {setup.bit.called_mm:g} mm, flutes: {setup.bit.flutes}, {setup.cutting.spindle_rpm:g} rpm",
        f"X0 Y0: {x:g}, {y:g} mm from the stock's left near corner",
        f"Z0: {z_zero_of(made.job)}",
        *([f"held by a skin of {setup.tab_rule.skin_mm:g} mm, cut by hand"] if setup.has_skin else []),
        *_found_words(made),
        f"lowest cut Z {made.path.bottom_z_mm + z_shift_of(made):.2f} mm",
        f"motion {seconds / 60.0:.1f} min",
        "starting values: the makers of machine, bit and sheet come first",
    )


def _found_words(made: Build) -> tuple[str, ...]:
    """That the program is for the sheet as it lies now, and for no other."""
    pose = made.found.pose
    if pose is None:
        return ()
    x, y = pose.shift
    return (
        f"for the sheet as it was found: shifted {x:.3f}, {y:.3f} mm, turned {degrees(pose.turn):.4f} deg",
    )


def _lap_head(names: KitNames) -> tuple[str, ...]:
    return (f"{names.base()}: clearance lap", "spindle off, bit raised: see that it passes every clamp")


def _air_head(names: KitNames, raised_mm: float) -> tuple[str, ...]:
    return (
        f"{names.base()}: air cut, the part program raised by {raised_mm:g} mm",
        "watch it to the end before you cut; the spindle turns as in the part program",
    )
