"""What the played cut says: time, what is being cut, how deep, and the chip that each tooth takes."""

from typing import TYPE_CHECKING

from core.router.feeds import CHIP_FLOOR_MM, chip_load_mm
from core.router.motion import SECONDS_PER_MINUTE
from core.router.played import THIN_SHARE, Chip

if TYPE_CHECKING:
    from core.router.freed import Freed
    from core.shown import Shown


def clock(seconds: float) -> str:
    """Minutes and seconds, with hours where there are any: 4:07, 1:02:30."""
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"


def at_second(shown: "Shown", second: float) -> tuple[str, str, str]:
    """The time; what is cut there; depth and chip, or that the bit is in the air."""
    stand = shown.run.stand(second)
    kind = Chip(int(shown.run.kinds[stand.piece])) if shown.run.kinds.size else Chip.AIR
    names, path = shown.path.toolpath.names, shown.path.toolpath
    name = names[int(path.operations[shown.run.moves[stand.piece]])].name if shown.run.moves.size else ""
    return (
        f"{clock(second)} of {clock(shown.run.total())}",
        name,
        _doing(shown, kind, stand.at[2], stand.mm_s),
    )


def _doing(shown: "Shown", kind: Chip, z: float, mm_s: float) -> str:
    depth = f"z {z:.2f}".replace("-", "\u2212")
    if kind is Chip.AIR:
        return f"{depth} \u00b7 in the air"
    if kind is Chip.DOWN:
        return f"{depth} \u00b7 going down"
    chip = mm_s * SECONDS_PER_MINUTE / (shown.setup.cutting.spindle_rpm * shown.setup.bit.flutes)
    return f"{depth} \u00b7 chip {chip:.3f} mm"


def legend(shown: "Shown") -> tuple[tuple[Chip, str], ...]:
    """The kinds of chip in words, with their limits in mm a tooth."""
    thin = THIN_SHARE * chip_load_mm(shown.setup.cutting, shown.setup.bit.flutes)
    rubs = "rubs" if shown.setup.cutting.material.melts else "dust"
    return (
        (Chip.FULL, f"chip from {max(thin, CHIP_FLOOR_MM):.3f} mm"),
        (Chip.RUBS, f"{rubs} below {CHIP_FLOOR_MM:.3f} mm"),
        (Chip.THIN, "thinner"),
        (Chip.DOWN, "going down"),
    )


def freed_words(one: "Freed") -> str:
    """What comes free, or hangs by its tabs."""
    if one.tabs:
        return f"{one.contour} is through \u00b7 {one.tabs} tab{'' if one.tabs == 1 else 's'} hold it"
    return f"{one.contour} is through \u00b7 what lies within comes free"
