"""The moves of a program that was read, as the proof measures them: its own arc formulas."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: mm; an arc that ends this near its start is a whole turn (NISTIR 6556 3.5.3.2).
SAME_PLACE = 1e-9


def sweeps_of(program: Program) -> Floats:
    """(n,) rad, signed, counter-clockwise above 0; 0 for a line, 2 pi for an arc that ends at its start."""
    centres, turns = program.centres, program.turns.astype(float)
    first = program.starts[:, :2] - centres
    last = program.ends[:, :2] - centres
    with np.errstate(invalid="ignore"):
        turned = turns * (np.arctan2(last[:, 1], last[:, 0]) - np.arctan2(first[:, 1], first[:, 0]))
        positive = np.mod(turned, 2.0 * np.pi)
        is_whole = np.hypot(*(last - first).T) < SAME_PLACE
    return np.where(turns == 0.0, 0.0, turns * np.where(is_whole, 2.0 * np.pi, positive))


def radii_of(program: Program) -> Floats:
    """(n,) mm at the start of each arc; 0 for a line."""
    arms = program.starts[:, :2] - program.centres
    return np.where(program.turns == 0, 0.0, np.hypot(arms[:, 0], arms[:, 1]))


def lengths_of(program: Program) -> Floats:
    """(n,) mm along each move, climb included; NaN where it starts from a place the file never told."""
    apart = program.ends - program.starts
    flat = np.where(
        program.turns == 0, np.hypot(apart[:, 0], apart[:, 1]), np.abs(sweeps_of(program)) * radii_of(program)
    )
    return np.hypot(flat, apart[:, 2])


@dataclass(frozen=True, eq=False)
class Motion:
    """Moves as motion time is computed from: starts, ends (n, 3) mm, bulges, feeds mm/min, is_rapid (n,)."""

    starts: Floats
    ends: Floats
    bulges: Floats
    feeds: Floats
    is_rapid: Flags


def motion_of(program: Program) -> Motion:
    """Every move whose start is known, arcs cut in two, since a whole turn has no bulge."""
    known = ~np.isnan(program.starts).any(axis=1)
    sweeps = sweeps_of(program)
    counts = np.where(program.turns == 0, 1, 2)[known]
    rows = np.repeat(np.nonzero(known)[0], counts)
    is_second = np.concatenate((np.zeros(1, bool), rows[1:] == rows[:-1]))[: rows.size]
    is_first = np.concatenate((rows[1:] == rows[:-1], np.zeros(1, bool)))[: rows.size]
    middles = places_at(program, rows, np.full(rows.size, 0.5))
    return Motion(
        starts=np.where(is_second[:, None], middles, program.starts[rows]),
        ends=np.where(is_first[:, None], middles, program.ends[rows]),
        bulges=np.tan(sweeps[rows] / 8.0),
        feeds=program.feeds[rows],
        is_rapid=program.is_rapid[rows],
    )


def places_at(program: Program, rows: NDArray[np.int64], share: Floats) -> Floats:
    """(m, 3) mm: where moves rows (m,) are when share (m,) of them is done."""
    starts, ends = program.starts[rows], program.ends[rows]
    straight = starts + share[:, None] * (ends - starts)
    is_arc = program.turns[rows] != 0
    arcs = rows[is_arc]
    straight[is_arc, :2] = _on_arc(program, arcs, sweeps_of(program)[arcs], share[is_arc])
    return straight


def _on_arc(program: Program, rows: NDArray[np.int64], sweeps: Floats, share: Floats) -> Floats:
    """The arm turned; its length goes from the first radius to the last, which may differ a little."""
    centres = program.centres[rows]
    arms = program.starts[rows, :2] - centres
    first = np.hypot(arms[:, 0], arms[:, 1])
    last = np.hypot(*(program.ends[rows, :2] - centres).T)
    grown = 1.0 + share * (last / first - 1.0)
    angle = share * sweeps
    cos, sin = np.cos(angle) * grown, np.sin(angle) * grown
    turned = np.column_stack((cos * arms[:, 0] - sin * arms[:, 1], sin * arms[:, 0] + cos * arms[:, 1]))
    return np.asarray(centres + turned)
