"""No pass takes more than the stated depth: a step too deep breaks the bit, or drags the sheet.

1. Places are laid along every cut, a share of the bit apart, each with how far along the program it lies.
2. What lies no deeper than one step below the stock's top is no question. Every other place asks for an
   earlier one near it, at most one step above: the ground there was gone already, or most of it.
3. A first ramp begins above the masking, and the pass behind it takes that much more along the ramp: a
   place on a slope answers for ramp_above_mm more than one on the level.
4. Passes run over each other, so it is mostly found at once, NEAR by; a last lap beside them looks as far
   as a bit may cut to its side. Places that are only just behind the bit are its own cut and say nothing.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.limits import Limits
from core.proof.near import cell_keys, pairs_within
from core.proof.removal import cuts_below
from core.proof.sweeps import lengths_of, places_at
from core.proof.verdict import Looked, looked

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]

#: Bit diameters between two places along a cut; never more than WIDEST mm, as on a 2 mm bit.
SPACING, WIDEST = 0.2, 0.4
#: Spacings; places of passes that run over each other lie no farther apart, with room for a rounded digit.
NEAR = 0.75
#: Bit radii to the side that one lap may take at full depth: half the bit's width and no more.
SIDE = 0.9
#: Spacings along the path behind the bit that are its own cut, where NEAR is looked at; bit diameters, where
#: its SIDE is: more than the half turn of a cut that bends as tightly as it can.
OWN_NEAR, OWN_SIDE = 2.25, 1.25
#: mm; a level pass has one z in the file. Chords of a gentle ramp fall by less than a thousandth each.
LEVEL = 1e-6
#: mm; what rounding in the file may add to a step.
SLACK = 5e-3


@dataclass(frozen=True, eq=False)
class Places:
    """Moves (n,), places (n, 3) mm on them, mm along the program (n,), the lowest z that each answers for."""

    rows: Ints
    at: Floats
    along: Floats
    lowest: Floats


def step_rule(program: Program, limits: Limits) -> Looked:
    """No cut goes more than one depth per pass below what was cut before it."""
    step = limits.depth_per_pass_mm
    if step is None:
        return Looked(0, ())
    spacing = min(SPACING * limits.bit_mm, WIDEST)
    if not spacing > 0.0:
        return Looked(0, ())
    places = _places(program, limits, step + SLACK, spacing)
    asks = np.nonzero(places.at[:, 2] < limits.stock_top_z_mm - step - SLACK)[0]
    checked, bad = np.zeros(len(program), bool), np.zeros(len(program), bool)
    checked[places.rows[asks]] = True
    asks = unanswered(asks, places, NEAR * spacing, OWN_NEAR * spacing)
    asks = unanswered(asks, places, SIDE * limits.bit_mm / 2.0, OWN_SIDE * limits.bit_mm)
    bad[places.rows[asks]] = True
    return looked(program, checked, bad, "step-too-deep", f"a cut is deeper than {step:.2f} mm at once")


def _places(program: Program, limits: Limits, step: float, spacing: float) -> Places:
    """Along all that runs below the height from which ramps begin; each begins where another has ended."""
    cuts = cuts_below(program, limits.stock_top_z_mm + limits.ramp_above_mm + SLACK)
    lengths = np.nan_to_num(lengths_of(program))
    spans = (cuts.last - cuts.first) * lengths[cuts.rows]
    counts = np.maximum(np.ceil(spans / spacing), 1.0).astype(np.int64)
    stretch = np.repeat(np.arange(cuts.rows.size), counts)
    within = np.arange(stretch.size) - np.repeat(np.cumsum(counts) - counts, counts)
    done = (within + 1) / counts[stretch]
    share = cuts.first[stretch] + done * (cuts.last - cuts.first)[stretch]
    rows = cuts.rows[stretch]
    at = places_at(program, rows, share)
    is_level = np.abs(program.ends[rows, 2] - program.starts[rows, 2]) < LEVEL
    lowest = at[:, 2] - step - np.where(is_level, 0.0, limits.ramp_above_mm)
    return Places(rows, at, (np.cumsum(lengths) - lengths)[rows] + share * lengths[rows], lowest)


def unanswered(asks: Ints, places: Places, reach: float, own: float) -> Ints:
    """Those of the asking places that no earlier one answers, within reach and more than own mm behind."""
    if reach <= 0.0 or not asks.size:
        return asks
    asks = asks[~answered_in_cell(asks, places, reach / np.sqrt(2.0), own)]
    rows, others = pairs_within(places.at[asks, :2], places.at[:, :2], reach)
    here = asks[rows]
    answers = (places.along[others] < places.along[here] - own) & (
        places.lowest[others] <= places.at[here, 2]
    )
    answered = np.zeros(asks.size, bool)
    answered[rows[answers]] = True
    return np.asarray(asks[~answered])


def answered_in_cell(asks: Ints, places: Places, side: float, own: float) -> Mask:
    """(n,) whether the cell of this side, mm, that the place lies in holds an earlier place that answers.

    Its diagonal is the reach, so these answers are sure, and they are nearly all: passes run over each other.
    Places are sorted by cell, then by their length along the program; the lowest so far in the cell is the
    least that any earlier one has.
    """
    _, cells = np.unique(cell_keys(places.at[:, :2], side), return_inverse=True)
    far, deep = float(np.ptp(places.along)) + own + 1.0, float(np.ptp(places.lowest)) + 1.0
    order = np.lexsort((places.along, cells))
    keys = cells[order] * far + (places.along[order] - places.along.min())
    # Each cell is one step of deep lower than the one before, so that none has its minimum from another.
    lowest = np.minimum.accumulate(places.lowest[order] - cells[order] * deep)
    wanted = cells[asks] * far + (places.along[asks] - places.along.min()) - own
    last = np.searchsorted(keys, wanted, side="left") - 1
    known = (last >= 0) & (cells[order[last]] == cells[asks])
    return np.asarray(known & (lowest[last] + cells[asks] * deep <= places.at[asks, 2]))
