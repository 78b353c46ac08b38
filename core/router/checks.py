"""What the numbers of a cut say before any path is made."""

from dataclasses import replace

from core.findings import Finding, Level
from core.router.extents import Extents
from core.router.forces import forces_of
from core.router.judged import Judged, judged
from core.router.setup import Setup

#: mm of flute that stays above the stock, so that the shank never rubs (bench practice, no source).
FLUTE_SPARE_MM = 0.5
#: mm by which a mark must be wider than the bit, so that the bit can run round in it.
MARK_SPARE_MM = 0.1
#: Share by which a knob may miss its speed (bench practice).
KNOB_SHARE = 0.2
#: mm of air under an air cut: a sheet is not flat, and masking lifts.
AIR_SPARE_MM = 2.0
#: Tabs bear so many times the force of a tooth: a brittle sheet gives no warning (bench practice, no source).
TAB_FACTOR = 5.0


def checked(setup: Setup) -> tuple[Finding, ...]:
    """Findings about bit, feeds, tabs and marks."""
    every = (
        _flute(setup),
        _chip(setup),
        _feed(setup),
        _spindle_speed(setup),
        _speed_by_hand(setup),
        _allowance(setup),
        *(() if setup.has_skin else (_tab_height(setup), _tabs_weak(setup), _tabs_low(setup))),
        _air_cut(setup),
    )
    return (*(found for found in every if found), *_numbers(setup), *_marks(setup))


def _flute(setup: Setup) -> Finding | None:
    stock = setup.layout.stock
    needed = (
        stock.thickness_mm
        + stock.masking_top_mm
        + stock.masking_bottom_mm
        + setup.cutting.skim_mm
        + FLUTE_SPARE_MM
    )
    if setup.bit.flute_length_mm >= needed:
        return None
    return Finding(
        Level.STOP,
        "flute-too-short",
        f"The bit's flute is {setup.bit.flute_length_mm:.1f} mm long and {needed:.1f} mm are needed: "
        "the shank would rub on the part.",
        f"Use a bit with at least {needed:.1f} mm of flute.",
    )


def _numbers(setup: Setup) -> tuple[Finding, ...]:
    """A caution for each number outside its limits."""
    every = judged(setup.cutting, setup.bit)
    return tuple(_outside(one) for one in every if one.is_low or one.is_high)


#: The finding of a number below and above its limits, and what to do.
_OUTSIDE = {
    "chip load": (
        ("chip-too-thin", "Feed faster, turn slower, or use a bit with fewer flutes."),
        ("chip-too-thick", "Feed slower or turn faster."),
    ),
    "depth per pass": (None, ("deep-pass", "Take less depth per pass.")),
    "plunge": (None, ("plunge-too-fast", "Plunge slower.")),
    "ramp": (None, ("steep-ramp", "Let the bit enter at a smaller angle.")),
    "bending of the bit": (None, ("bit-bends", "Take less depth per pass, or clamp the bit shorter.")),
    "stress in the bit": (
        None,
        ("bit-may-snap", "Take less depth per pass, feed slower, or clamp it shorter."),
    ),
}


def _outside(number: Judged) -> Finding:
    below, above = _OUTSIDE[number.name]
    code, remedy = (below if number.is_low else above) or ("", "")
    limit, side, what = (
        (number.low, "below", number.below) if number.is_low else (number.high, "above", number.above)
    )
    told = f"The {number.name} is {number.value:.3g} {number.unit}"
    text = f"{told}, {side} {limit:.3g}: {what} ({number.source})."
    return Finding(Level.CAUTION, code, text, remedy)


def _chip(setup: Setup) -> Finding | None:
    """What the chip is, where nothing is wrong with it."""
    chip = judged(setup.cutting, setup.bit)[0]
    if chip.is_low or chip.is_high:
        return None
    text = (
        f"Each tooth takes a chip of {chip.value:.3f} mm at {setup.cutting.feed_mm_min:.0f} mm/min, "
        f"{setup.cutting.spindle_rpm:.0f} rpm and {setup.bit.flutes} flute(s); "
        f"{chip.low:.3f} to {chip.high:.3f} mm is usual."
    )
    return Finding(
        Level.NOTE, "chip-load", text, "A starting value: the makers of bit and sheet know better."
    )


def _tabs_weak(setup: Setup) -> Finding | None:
    """Whether the fewest tabs bear the force of a tooth with a factor for a brittle sheet."""
    rule, material = setup.tab_rule, setup.cutting.material
    bears = rule.least_count * rule.neck_mm * rule.height_mm * material.shear
    needed = TAB_FACTOR * forces_of(setup.cutting, setup.bit).peak_n
    if bears >= needed:
        return None
    return Finding(
        Level.CAUTION,
        "tabs-weak",
        f"{rule.least_count} tabs of {rule.neck_mm:g} by {rule.height_mm:g} mm bear {bears:.0f} N in "
        f"{material.name} ({material.shear_source}); a tooth pulls up to {needed / TAB_FACTOR:.0f} N, and "
        f"{TAB_FACTOR:g} times that is safe.",
        "Make the tabs higher, wider or more.",
    )


def _tabs_low(setup: Setup) -> Finding | None:
    """What is usual in this material, where less was asked for."""
    usual = setup.cutting.material.tab_height_mm
    if setup.tab_rule.height_mm >= usual:
        return None
    text = (
        f"Tabs in {setup.cutting.material.name} are usually {usual:g} mm high (common practice, no source)."
    )
    return Finding(Level.NOTE, "tabs-low", text, f"Make the tabs {usual:g} mm high.")


def _feed(setup: Setup) -> Finding | None:
    top = setup.machine.top_feed_mm_min
    if setup.cutting.feed_mm_min <= top:
        return None
    return Finding(
        Level.CAUTION,
        "feed-beyond-machine",
        f"The machine reaches {top:.0f} mm/min and {setup.cutting.feed_mm_min:.0f} are asked for: "
        "the chip will be thinner than it says.",
        "Feed slower, and turn slower by as much.",
    )


def _spindle_speed(setup: Setup) -> Finding | None:
    """A speed that the spindle does not reach is another chip than the program was made for."""
    asked, (slowest, fastest) = setup.cutting.spindle_rpm, setup.machine.spindle_range_rpm
    if slowest <= asked <= fastest:
        return None
    return Finding(
        Level.STOP,
        "spindle-out-of-range",
        f"The spindle turns at {slowest:.0f} to {fastest:.0f} rpm, and {asked:.0f} are asked for.",
        "Choose a speed that it has (cutting.speed), and the feed follows.",
    )


def _speed_by_hand(setup: Setup) -> Finding | None:
    """What the chip becomes where a hand sets the speed and misses it."""
    if setup.machine.spindle == "program":
        return None
    slower = replace(setup.cutting, spindle_rpm=setup.cutting.spindle_rpm * (1.0 - KNOB_SHARE))
    chip = judged(slower, setup.bit)[0]
    text = (
        f"The speed is set by hand: at {slower.spindle_rpm:.0f} rpm, {KNOB_SHARE:.0%} less than asked for, "
        f"each tooth takes {chip.value:.3f} mm; {chip.high:.3f} mm is the most that is usual."
    )
    level = Level.CAUTION if chip.is_high else Level.NOTE
    return Finding(level, "speed-by-hand", text, "Set the speed with care, or feed slower.")


def _allowance(setup: Setup) -> Finding | None:
    """An allowance that the last lap cannot take is left out, and that is said."""
    asked, most = setup.cutting.allowance_mm, setup.deepest_side_cut_mm
    if not setup.cutting.has_last_lap or asked <= most:
        return None
    return Finding(
        Level.CAUTION,
        "allowance-too-wide",
        f"A {setup.bit.diameter_mm:g} mm bit cannot take {asked:g} mm to its side at full depth: the passes "
        "leave nothing on the wall.",
        f"Leave at most {most:.2f} mm.",
    )


def _tab_height(setup: Setup) -> Finding | None:
    if setup.tab_rule.height_mm < setup.layout.stock.thickness_mm:
        return None
    return Finding(
        Level.CAUTION,
        "tab-too-high",
        "The tabs are as high as the sheet is thick: nothing is cut there.",
        "Make the tabs lower.",
    )


def _marks(setup: Setup) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            Level.STOP,
            "mark-too-small",
            f"A {setup.bit.called_mm:g} mm bit cannot bore a mark {mark.diameter_mm:.1f} mm wide.",
            "Use a narrower bit or wider marks.",
            mark.at,
        )
        for mark in setup.layout.marks
        if mark.kind == "hole" and mark.diameter_mm < setup.bit.diameter_mm + MARK_SPARE_MM
    )


def _air_cut(setup: Setup) -> Finding | None:
    """An air cut that is not in air is a cut."""
    raised, needed = setup.cutting.air_cut_mm, setup.top_z - setup.floor_z + AIR_SPARE_MM
    if raised == 0.0 or raised >= needed:
        return None
    text = f"The air cut is raised by {raised:g} mm and would meet the stock: {needed:.1f} mm are needed."
    return Finding(Level.STOP, "air-cut-too-low", text, f"Raise it by {needed:.1f} mm or more.")


def checked_travel(extents: Extents, setup: Setup) -> tuple[Finding, ...]:
    """A stop when the bit goes farther up and down than the machine; the sheet has judged x and y."""
    size, travel = extents.z_max + setup.cutting.air_cut_mm - extents.z_min, setup.machine.travel_mm[2]
    if size <= travel:
        return ()
    text = f"The bit goes {size:.1f} mm up and down and the machine only {travel:.1f} mm."
    remedy = "Lower the safe height, take thinner stock, or use a machine with more travel."
    return (Finding(Level.STOP, "beyond-travel", text, remedy),)
