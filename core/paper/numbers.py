"""The numbers of the bench in words: what is set on the machine, with reasons where one may doubt them."""

from collections.abc import Iterator
from dataclasses import dataclass

#: The sign between width and height, which looks like a letter.
TIMES = "\u00d7"

#: mm of an inch.
INCH = 25.4


@dataclass(frozen=True)
class Number:
    """A name, its value with its unit, and why it is so ("" where nobody asks)."""

    name: str
    value: str
    reason: str = ""


@dataclass(frozen=True)
class Travel:
    """How far the bit's centre goes each way from the work zero, mm."""

    left: float
    right: float
    near: float
    far: float
    up: float
    down: float


@dataclass(frozen=True)
class CutNumbers:
    """mm, mm/min, rpm, seconds. set_z_mm is what Z is set to when touched with touched_with.

    bottom_z_mm is the lowest cut, measured from z_zero ("stock top" or "spoil board").
    """

    bit_mm: float
    flutes: int
    spindle_rpm: float
    feed_mm_min: float
    plunge_mm_min: float
    depth_per_pass_mm: float
    passes: int
    motion_time_s: float
    z_zero: str
    set_z_mm: float
    touched_with: str
    safe_z_mm: float
    bottom_z_mm: float
    skim_mm: float
    thickness_mm: float
    good_for_mm: tuple[float, float] | None
    travel: Travel | None


def cutting_numbers(cut: CutNumbers) -> tuple[Number, ...]:
    """Every number that the bench needs, in the order in which it is set."""
    return tuple(_numbers(cut))


def _numbers(cut: CutNumbers) -> Iterator[Number]:
    flutes = "1 flute" if cut.flutes == 1 else f"{cut.flutes} flutes"
    yield Number("Bit", f"{cut.bit_mm:g} mm, {flutes}", f"{inches(cut.bit_mm)} in")
    yield Number("Sheet as measured", f"{cut.thickness_mm:.2f} mm", _good_for(cut))
    yield Number("Z zero", cut.z_zero, f"touched with {cut.touched_with}")
    yield Number("Set Z to", f"{cut.set_z_mm:.2f} mm", "when the bit just touches")
    yield Number("Spindle", f"{cut.spindle_rpm:.0f} rpm")
    yield Number("Feed", f"{cut.feed_mm_min:.0f} mm/min", _chip(cut))
    yield Number("Plunge", f"{cut.plunge_mm_min:.0f} mm/min")
    yield Number("Depth each pass", f"{cut.depth_per_pass_mm:.2f} mm", f"{cut.passes} passes")
    yield Number("Lowest cut", f"Z {signed(cut.bottom_z_mm)} mm", f"{cut.skim_mm:.2f} mm into the board")
    yield Number("Safe height", f"Z {signed(cut.safe_z_mm)} mm")
    yield Number("Time", said_time(cut.motion_time_s), "motion alone")
    if cut.travel is not None:
        yield from _travel(cut.travel)


def _good_for(cut: CutNumbers) -> str:
    if cut.good_for_mm is None:
        return "measure it again if it is not this sheet"
    return f"good for {cut.good_for_mm[0]:.2f} to {cut.good_for_mm[1]:.2f} mm, no other"


def _chip(cut: CutNumbers) -> str:
    chip = cut.feed_mm_min / (cut.spindle_rpm * cut.flutes)
    return f"{chip:.3f} mm of chip a tooth, to start"


def _travel(travel: Travel) -> Iterator[Number]:
    across = f"{travel.left:.1f} left, {travel.right:.1f} right"
    along = f"{travel.near:.1f} near, {travel.far:.1f} far"
    yield Number("Travel from zero", f"{across} mm", f"{along}, {travel.up:.1f} up, {travel.down:.1f} down")


def signed(value_mm: float) -> str:
    """A height with two decimals and a minus sign as wide as a plus."""
    return f"{value_mm:.2f}".replace("-", "\u2212")


def inches(value_mm: float) -> str:
    """A length in inches, three decimals."""
    return f"{value_mm / INCH:.3f}"


def said_time(seconds: float) -> str:
    """Time as people say it: "4 min 50 s"."""
    whole = round(seconds)
    hours, minutes, rest = whole // 3600, whole // 60 % 60, whole % 60
    if hours:
        return f"{hours} h {minutes:02d} min"
    return f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"


def box_words(width_mm: float, height_mm: float) -> str:
    """A sheet box as a cutter's program shows it, in both units."""
    metric = f"{width_mm:.2f} {TIMES} {height_mm:.2f} mm"
    return f"{metric} ({inches(width_mm)} {TIMES} {inches(height_mm)} in)"
