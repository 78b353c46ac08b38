"""Whether a film can be laid wrong without its marks telling.

Laid wrong means: a mark over the place of another, or the film turned over, or both. For each of these
the film is moved and turned to fit best (least squares, closed form in the complex plane: with both sets
about their means the best turn is the phase of sum(conj(p) q)); how far the worst mark is then still off
is how plainly it shows. The smallest of these is the pattern's worst wrong fit.
"""

from collections.abc import Sequence
from itertools import permutations

import numpy as np
from numpy.typing import NDArray

from core.findings import Point
from core.outline.segments import Floats

Complexes = NDArray[np.complex128]


def worst_wrong_fit(marks: Sequence[Point]) -> float:
    """How far, mm, the best of all wrong fits still misses some mark; 0 for a pattern that fits itself."""
    pattern = np.array([complex(x, y) for x, y in marks])
    return float(worst_wrong_fits(pattern[None, :])[0])


def worst_wrong_fits(patterns: Complexes) -> Floats:
    """(m,) mm for m patterns (m, n), each mark x + iy mm, n >= 2."""
    centred = patterns - patterns.mean(axis=1, keepdims=True)
    orders = list(permutations(range(patterns.shape[1])))
    turned = [_miss(centred[:, order], centred) for order in orders[1:]]
    turned_over = [_miss(np.conj(centred[:, order]), centred) for order in orders]
    return np.asarray(np.min([*turned, *turned_over], axis=0))


def _miss(laid: Complexes, meant: Complexes) -> Floats:
    """(m,) mm: the worst mark after the best turn of ``laid`` onto ``meant``, both about their means."""
    phase = np.sum(np.conj(laid) * meant, axis=1)
    size = np.abs(phase)
    turn = np.where(size > 0.0, phase / np.where(size > 0.0, size, 1.0), 1.0)
    return np.asarray(np.abs(meant - turn[:, None] * laid).max(axis=1))
