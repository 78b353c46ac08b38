"""The rules of safe motion, proven on a program as it was read from its bytes (design: promise 4).

Each rule is a function of the Program and its Limits that says how often it was laid on something and
what breaks it. None of them believes the program's words: only its numbers.
"""

from collections.abc import Callable

import numpy as np
import shapely
from numpy.typing import NDArray

from core.program.read.program import EventKind, Program
from core.proof.limits import Broken, Limits, RulesReport, Zone
from core.proof.removal import corners_of, cuts_below
from core.proof.spin import spin_up_rule
from core.proof.steps import step_rule
from core.proof.verdict import MOST_BREACHES, Looked, breaches, in_stock, looked

Flags = NDArray[np.bool_]

#: mm; below it two heights or places are the same, as files have four decimals.
SAME = 1e-3
#: rpm and mm/min; a written speed is rounded to a whole turn, a feed to a tenth (inches: 0.03 mm/min).
SAME_RPM, SAME_FEED = 0.6, 0.1


def rapid_rule(program: Program, limits: Limits) -> Looked:
    """No rapid below the safe height except straight up."""
    starts, ends = program.starts, program.ends
    lowest = np.fmin(starts[:, 2], ends[:, 2])
    still = ~(np.abs(ends[:, :2] - starts[:, :2]) > SAME).any(axis=1)
    is_up = still & (ends[:, 2] >= starts[:, 2])
    bad = program.is_rapid & ~(lowest >= limits.safe_z_mm - SAME) & ~is_up
    return looked(
        program, program.is_rapid, bad, "rapid-in-stock", "a rapid runs below the safe height other than up"
    )


def first_move_rule(program: Program, limits: Limits) -> Looked:
    """The bit is lifted to the safe height before it goes anywhere sideways."""
    lifts = np.isnan(program.ends[:1, :2]).all(axis=1) & (program.ends[:1, 2] >= limits.safe_z_mm - SAME)
    bad = np.zeros(len(program), bool)
    bad[:1] = ~lifts
    first = np.arange(len(program)) == 0
    return looked(program, first, bad, "no-first-lift", "the first move is not a lift to the safe height")


def known_start_rule(program: Program, limits: Limits) -> Looked:
    """No cut starts from a place that the file has not told, and only the lift and what follows may."""
    del limits
    unknown = np.isnan(program.starts).any(axis=1)
    bad = unknown & ~program.is_rapid
    return looked(
        program, ~program.is_rapid, bad, "unknown-start", "a cut starts from a place not told before"
    )


def spindle_rule(program: Program, limits: Limits) -> Looked:
    """Nothing enters the stock unless the spindle turns clockwise, at the stated speed."""
    if limits.spindle_rpm == 0.0:
        every = np.ones(len(program), bool)
        return looked(
            program, every, program.rpm != 0.0, "spindle-on", "the spindle turns in a program without cuts"
        )
    cuts = in_stock(program, limits)
    stopped = looked(
        program,
        cuts,
        cuts & ~(program.rpm > 0.0),
        "spindle-off",
        "a cut is made with the spindle off or turning backwards",
    )
    if limits.spindle_rpm is None:
        return stopped
    differs = cuts & (program.rpm > 0.0) & (np.abs(program.rpm - limits.spindle_rpm) > SAME_RPM)
    return stopped + looked(
        program,
        cuts,
        differs,
        "spindle-speed",
        f"a cut is made at another speed than {limits.spindle_rpm:g} rpm",
    )


def depth_rule(program: Program, limits: Limits) -> Looked:
    """Nothing runs below the stated lowest cut."""
    every = np.ones(len(program), bool)
    bad = program.ends[:, 2] < limits.bottom_z_mm - SAME
    return looked(program, every, bad, "too-deep", f"the bit goes below {limits.bottom_z_mm:.3f} mm")


def travel_rule(program: Program, limits: Limits) -> Looked:
    """The whole path fits between the ends of each axis."""
    if limits.travel_mm is None or not len(program):
        return Looked(0, ())
    corners, _ = corners_of(program, cuts_below(program, np.inf))
    reach = np.vstack((program.ends[:, :2], corners))
    spans = [*np.ptp(_known(reach), axis=0), np.ptp(_known(program.ends[:, 2:]))]
    over = [
        axis for axis, span, most in zip("XYZ", spans, limits.travel_mm, strict=True) if span > most + SAME
    ]
    texts = tuple(f"the path is longer along {axis} than the machine's travel" for axis in over)
    return Looked(3, tuple(Broken("outside-travel", 0, None, text) for text in texts))


def _known(values: NDArray[np.float64]) -> NDArray[np.float64]:
    known = values[~np.isnan(values).any(axis=1)]
    return known if len(known) else np.zeros((1, values.shape[1]))


def plunge_rule(program: Program, limits: Limits) -> Looked:
    """No cut goes straight down into the stock faster than the plunge rate."""
    if limits.plunge_mm_min is None:
        return Looked(0, ())
    apart = program.ends - program.starts
    is_down = (np.abs(apart[:, :2]) <= SAME).all(axis=1) & (apart[:, 2] < -SAME) & (program.turns == 0)
    plunges = is_down & in_stock(program, limits) & ~program.is_rapid
    bad = plunges & ~(program.feeds <= limits.plunge_mm_min + SAME_FEED)
    return looked(
        program, plunges, bad, "plunge-too-fast", "a straight plunge is faster than the plunge rate"
    )


def feed_rule(program: Program, limits: Limits) -> Looked:
    """Every cut has a feed, inside what the machine can do and, in the stock, what was stated."""
    cuts = ~program.is_rapid
    found = looked(program, cuts, cuts & ~(program.feeds > 0.0), "no-feed", "a cut has no feed")
    if limits.top_feed_mm_min is not None:
        fast = cuts & (program.feeds > limits.top_feed_mm_min + SAME_FEED)
        found += looked(program, cuts, fast, "feed-over-machine", "a feed is above what the machine can do")
    if limits.feed_mm_min is not None:
        fast = in_stock(program, limits) & cuts & (program.feeds > limits.feed_mm_min + SAME_FEED)
        found += looked(
            program, cuts, fast, "feed-over-stated", "a cut in the stock is faster than the stated feed"
        )
    return found


def preamble_rule(program: Program, limits: Limits) -> Looked:
    """Units, absolute or relative, feed mode and plane are said before the first move."""
    del limits
    first = int(program.lines[0]) if len(program) else program.line_count + 1
    said = program.preamble
    modes = {
        "the unit (G21 or G20)": said.units,
        "absolute or incremental (G90 or G91)": said.distance,
        "the feed mode (G94)": said.feed_mode,
        "the plane (G17)": said.plane,
    }
    late = [name for name, line in modes.items() if line is None or line >= first]
    texts = [f"{name} is not said before the first move" for name in late]
    return Looked(len(modes), tuple(Broken("mode-not-set", first, None, text) for text in texts))


def ending_rule(program: Program, limits: Limits) -> Looked:
    """The program ends, with the spindle off and the bit at the safe height."""
    broken = []
    line = program.ending.line or program.line_count
    if program.ending.line is None:
        broken.append(Broken("no-end", line, None, "the program has no end"))
    if program.ending.is_spinning:
        broken.append(Broken("spindle-left-on", line, None, "the spindle is not stopped before the end"))
    if len(program) and not program.ends[-1, 2] >= limits.safe_z_mm - SAME:
        broken.append(
            Broken("bit-left-down", line, None, "the bit is not lifted to the safe height at the end")
        )
    return Looked(3, tuple(broken))


def one_bit_rule(program: Program, limits: Limits) -> Looked:
    """One program is for one bit."""
    del limits
    changes = [event for event in program.events if event.kind is EventKind.TOOL]
    broken = tuple(
        Broken("bit-changed", each.line, None, "the bit is changed on the way") for each in changes
    )
    return Looked(1, broken[:MOST_BREACHES])


def line_rule(program: Program, limits: Limits) -> Looked:
    """No line is longer than the controller takes."""
    if limits.line_limit is None:
        return Looked(0, ())
    if program.longest_line <= limits.line_limit:
        return Looked(program.line_count, ())
    text = f"a line is longer than {limits.line_limit} characters"
    return Looked(program.line_count, (Broken("line-too-long", 0, None, text),))


def zone_rule(program: Program, limits: Limits) -> Looked:
    """The bit stays out of every clamp below the clamp's top."""
    found = Looked(0, ())
    for zone in limits.zones:
        found += _one_zone(program, zone, limits)
    return found


def _one_zone(program: Program, zone: Zone, limits: Limits) -> Looked:
    cuts = cuts_below(program, zone.top_z_mm - SAME)
    corners, stretch = corners_of(program, cuts)
    lines = np.asarray(shapely.linestrings(corners, indices=stretch)) if len(corners) else np.empty(0, object)
    hit = _distances(lines, zone) < (zone.diameter_mm or limits.bit_mm) / 2.0
    bad = np.zeros(len(program), bool)
    bad[cuts.rows[hit]] = True
    return Looked(len(program), breaches(program, bad, "in-clamp", "the bit runs into a clamp"))


def _distances(lines: NDArray[np.object_], zone: Zone) -> NDArray[np.float64]:
    """(n,) mm from each line to the zone seen from above."""
    box = shapely.box(zone.x_min, zone.y_min, zone.x_max, zone.y_max)
    if not zone.is_round:
        return np.asarray(shapely.distance(lines, box))
    return np.asarray(shapely.distance(lines, shapely.centroid(box)) - (zone.x_max - zone.x_min) / 2.0)


Rule = Callable[[Program, Limits], Looked]

RULES: tuple[Rule, ...] = (
    preamble_rule,
    first_move_rule,
    known_start_rule,
    rapid_rule,
    spindle_rule,
    spin_up_rule,
    depth_rule,
    step_rule,
    travel_rule,
    plunge_rule,
    feed_rule,
    zone_rule,
    one_bit_rule,
    line_rule,
    ending_rule,
)


def judge(program: Program, limits: Limits) -> RulesReport:
    """Every rule laid on every move of the program."""
    found = [rule(program, limits) for rule in RULES]
    broken = sorted((each for one in found for each in one.broken), key=lambda each: each.line)
    return RulesReport(sum(one.checked for one in found), tuple(broken))
