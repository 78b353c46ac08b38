"""What a program is held to, and what was found: the values of the rules of safe motion."""

from dataclasses import dataclass

Place = tuple[float, float, float]


@dataclass(frozen=True)
class Zone:
    """A clamp as a box, program coordinates, mm: what turns stays out of it while the tip is below top_z_mm.

    diameter_mm is that of what turns there (0: the bit itself); a round one is the box's largest disc.
    """

    x_min: float
    y_min: float
    x_max: float
    y_max: float
    top_z_mm: float
    diameter_mm: float = 0.0
    is_round: bool = False


@dataclass(frozen=True)
class Limits:
    """All in the program's coordinates: mm, mm/min, rpm. None: not stated, so not judged.

    safe_z_mm: rapids stay at or above it; bottom_z_mm: the lowest cut; travel_mm: how far each axis goes
    from end to end; spindle_rpm 0: the spindle must stay off; dwell_unit of G4 P, "s" or "ms";
    depth_per_pass_mm: the most that is cut at once; ramp_above_mm: how far above the stock a ramp may begin;
    feed_mm_min: the fastest cut in the stock; top_feed_mm_min: the machine's fastest move.
    """

    safe_z_mm: float
    stock_top_z_mm: float
    bottom_z_mm: float
    travel_mm: Place | None = None
    spindle_rpm: float | None = None
    spin_up_s: float = 0.0
    dwell_unit: str = "s"
    feed_mm_min: float | None = None
    plunge_mm_min: float | None = None
    top_feed_mm_min: float | None = None
    zones: tuple[Zone, ...] = ()
    bit_mm: float = 0.0
    line_limit: int | None = None
    depth_per_pass_mm: float | None = None
    ramp_above_mm: float = 0.0


@dataclass(frozen=True)
class Broken:
    """A rule that a line breaks: its code, the line (0: the file as a whole), where, and a sentence."""

    code: str
    line: int
    at: Place | None
    text: str


@dataclass(frozen=True)
class RulesReport:
    """How many times a rule was laid on something, and the breaches, in the order of the file."""

    checked: int
    broken: tuple[Broken, ...]
