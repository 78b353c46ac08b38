"""Where the second picture may lie on the first: a search over scale, turn and shift on small maps of edges.

Each map holds, per cell, the sum of exp(2 i theta) over the edge in it, theta its direction: edges that run
alike add up, edges that cross cancel, so that an edge agrees with an edge and not with a mere crowd of them.
Turning a picture by alpha multiplies its map by exp(2 i alpha); one Fourier transform a scale and turn gives
the agreement for every shift (correlation theorem).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats
from core.second.pose import Pose
from core.second.traced import Samples

Map = np.ndarray

#: Cells along the first picture's edges, and along the map, which goes round: room for what overhangs.
CELLS, MAP = 64, 128
#: Cells by which edges may miss each other and still agree (sigma); as far as half a step below moves them.
SOFT = 1.4
#: Steps of scale (natural logarithm) and turn (rad): half of either moves the rim of 32 cells by 1.3 cells.
SCALE_STEP, TURN_STEP = 0.08, np.radians(5.0)
#: The second picture shows between 0.45 and 2.2 times the length that the first one shows: an edited copy.
SCALE_REACH = 0.8
#: rad to either side: "turned slightly".
TURN_REACH = np.radians(12.5)
#: Points of the second picture's edge on a map.
POINTS = 1200
#: Peaks looked at for every scale and turn, and guesses kept.
PEAKS, KEPT = 2, 16
#: Cells by which two guesses differ, in the mean over the edge.
APART = 2.0


@dataclass(frozen=True)
class Guess:
    """A Pose and how well the maps agree there, on a scale of their own."""

    agreement: float
    pose: Pose


@dataclass(frozen=True, eq=False)
class Ground:
    """The first picture's map, transformed; low is where its cell (0, 0) begins, cell its side, px."""

    transformed: Map
    low: Floats
    cell: float


def ground_of(first: Samples) -> Ground:
    """The map of the first picture's edges, softened by what both maps are to be."""
    low, high = first.at.min(axis=0), first.at.max(axis=0)
    cell = max(float((high - low).max()), 1.0) / CELLS
    angles = 2.0 * np.arctan2(first.to_light[:, 1], first.to_light[:, 0])
    sharp = _map((first.at - low) / cell, first.weight * np.exp(1j * angles))
    waves = np.fft.fftfreq(MAP) * 2.0 * np.pi
    soft = np.exp(-(waves**2) * SOFT**2).astype(np.float32)  # of both maps: exp(-w^2 s^2 / 2) twice
    return Ground(np.fft.fft2(sharp) * soft[:, None] * soft[None, :], low, cell)


def _map(cells: Floats, values: np.ndarray) -> Map:
    """(MAP, MAP) complex64: the values added up in their cells, going round at the sides."""
    columns, rows = np.floor(cells).astype(np.int64).T % MAP
    at = rows * MAP + columns
    parts = [np.bincount(at, part, MAP * MAP) for part in (values.real, values.imag)]
    return np.asarray((parts[0] + 1j * parts[1]).reshape(MAP, MAP), dtype=np.complex64)


def guesses(first: Samples, second: Samples, base: float, *, is_mirrored: bool) -> list[Guess]:
    """The best places, best first, each different from the others; base is the likeliest scale."""
    ground = ground_of(first)
    thin = second.thinned(POINTS)
    found = [
        guess
        for scale in base * np.exp(_steps(SCALE_REACH, SCALE_STEP))
        for turn in _turns(is_mirrored=is_mirrored)
        for guess in _at(ground, thin, Pose.turned(scale, turn, (0.0, 0.0), is_mirrored=is_mirrored))
    ]
    found.sort(key=lambda guess: -guess.agreement)
    return _different(found, thin.at, ground.cell)


def _steps(reach: float, step: float) -> Floats:
    count = int(np.ceil(reach / step))
    return np.asarray(np.arange(-count, count + 1) * step, dtype=np.float64)


def _turns(*, is_mirrored: bool) -> Floats:
    """Slight turns; a mirrored picture may have been turned over about either axis."""
    slight = _steps(TURN_REACH, TURN_STEP)
    slight = slight[np.abs(slight) <= TURN_REACH]
    return np.concatenate((slight, slight + np.pi)) if is_mirrored else slight


def _at(ground: Ground, thin: Samples, pose: Pose) -> Iterator[Guess]:
    """The best shifts for one scale and turn; pose has no shift yet."""
    normals, cells = pose.directions(thin.to_light), pose.of(thin.at) / ground.cell
    values = thin.weight * pose.scale * np.exp(2j * np.arctan2(normals[:, 1], normals[:, 0]))
    placed = np.fft.fft2(_map(cells, values))
    agreement = np.fft.ifft2(ground.transformed * placed.conj()).real / np.sqrt(float(np.abs(values).sum()))
    for row, column in _peaks(agreement):
        shift = ground.low + _unrolled(np.array([column, row]), cells.mean(axis=0)) * ground.cell
        yield Guess(float(agreement[row, column]), replace(pose, shift=(float(shift[0]), float(shift[1]))))


def _unrolled(shift: Floats, middle: Floats) -> Floats:
    """(2,) cells: the map goes round; of all shifts that look alike the one that brings the middles near."""
    return np.asarray(shift + MAP * np.round((CELLS / 2.0 - middle - shift) / MAP))


def _peaks(agreement: Floats) -> list[tuple[int, int]]:
    left = agreement.copy()
    found = []
    for _ in range(PEAKS):
        row, column = np.unravel_index(int(left.argmax()), left.shape)
        found.append((int(row), int(column)))
        around = np.arange(-2, 3)
        left[np.ix_((row + around) % MAP, (column + around) % MAP)] = -np.inf
    return found


def _different(found: list[Guess], at: Floats, cell: float) -> list[Guess]:
    """The first KEPT that put the edges well away from where a better one puts them."""
    few = at[:: max(len(at) // 50, 1)]
    kept: list[tuple[Guess, Floats]] = []
    for guess in found:
        placed = guess.pose.of(few)
        if all(np.hypot(*(placed - other).T).mean() > APART * cell for _, other in kept):
            kept.append((guess, placed))
        if len(kept) == KEPT:
            break
    return [guess for guess, _ in kept]
