"""Three marks for one setting: proven not to fit wrong, near the part, and wide enough apart to be read.

1. Of the places free of parts and edges a few stand for all: in each direction from the part's middle
   the one that costs least film and the farthest one.
2. Every trio of them whose worst wrong fit is large enough, and that stands wide enough to be read well,
   is weighed: area of film it makes necessary times the variance at the part's worst corner.
3. The lightest is taken. A long sheet gets a fourth mark in the same way.
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from core.outline.loop import Bounds
from core.outline.segments import Floats
from core.sheet.mark_ground import Flags, MarkGround
from core.sheet.rule import Clearances
from core.sheet.setting import Setting
from core.sheet.wrong_fit import Complexes, worst_wrong_fits

#: mm asked of a pattern's worst wrong fit. Promise 8 asks 5 of the least-squares fit; an eye that shares
#: the miss out evenly gets it down to nine tenths of that (60/68/76: 5.57 to 5.04), so a little more.
SOUGHT_MISS_MM = 6.0
#: Variance at the part's worst corner for marks read with variance 1; a row of marks along one side, far
#: from the other end of the part, is over 5, three round the part about 1.
LARGEST_VARIANCE = 1.5
#: Directions from the part's middle; two places in each are up to 32 for two plain holes and a key.
DIRECTIONS = 16
#: mm by which the key is more to the upper left than any other mark, so that "upper left" is plain to see.
PLAINLY_MM = 10.0


@dataclass(frozen=True, eq=False)
class Pattern:
    """places (n, 2) mm in the shape's coordinates, the key first; weight: the less the better."""

    places: Floats
    weight: float


@dataclass(frozen=True, eq=False)
class Candidates:
    """The few places (x + iy mm, shape's coordinates) of one setting that stand for all that are free."""

    setting: Setting
    keys: Complexes
    holes: Complexes


def candidates(ground: MarkGround, setting: Setting, clearances: Clearances) -> Candidates:
    """Rule 1."""
    return Candidates(
        setting,
        _standing_for_all(ground, _free(ground, setting, clearances, is_key=True)),
        _standing_for_all(ground, _free(ground, setting, clearances, is_key=False)),
    )


def find_pattern(
    among: Candidates, ground: MarkGround, clearances: Clearances, *, key_upper_left: bool
) -> Pattern | None:
    """The best three marks here, None where no three will do."""
    keys = among.keys
    if key_upper_left:
        keys = keys[_is_upper_left(keys, among.setting)]
    return _lightest(_trios(keys, among.holes, key_upper_left=key_upper_left), ground, clearances)


def with_fourth(
    pattern: Pattern, ground: MarkGround, setting: Setting, clearances: Clearances
) -> Pattern | None:
    """The same three and the best fourth, None where none will do."""
    holes = _complex(ground.places[_free(ground, setting, clearances, is_key=False)])
    three = _complex(pattern.places)
    fours = np.column_stack((np.tile(three, (holes.size, 1)), holes))
    return _lightest(fours, ground, clearances)


def _complex(places: Floats) -> Complexes:
    return np.asarray(places[:, 0] + 1j * places[:, 1])


def _free(ground: MarkGround, setting: Setting, clearances: Clearances, *, is_key: bool) -> Flags:
    """(n,) which places keep clear of parts, clamps and the stock's edges."""
    x_min, y_min, x_max, y_max = setting.room_for(clearances, is_key=is_key)
    x, y = ground.places.T
    inside = (x >= x_min) & (x <= x_max) & (y >= y_min) & (y <= y_max)
    inside &= ground.takes_key if is_key else ground.takes_hole
    if ground.obstacles.clamps:
        inside &= ground.obstacles.free(ground.places, setting, clearances, is_key=is_key)
    return np.asarray(inside)


def _standing_for_all(ground: MarkGround, free: Flags) -> Complexes:
    """(k,) at most two places in each direction: what makes the least box with the part, and the farthest."""
    places = ground.places[free]
    if not len(places):
        return np.empty(0, dtype=complex)
    x_min, y_min, x_max, y_max = ground.box
    x, y = places[:, 0] - (x_min + x_max) / 2.0, places[:, 1] - (y_min + y_max) / 2.0
    sector = np.floor((np.arctan2(y, x) / (2.0 * np.pi) + 0.5) * DIRECTIONS).astype(int) % DIRECTIONS
    beyond = np.maximum(np.abs(x) * 2.0, x_max - x_min) * np.maximum(np.abs(y) * 2.0, y_max - y_min)
    distance = np.hypot(x, y)
    chosen = set()
    for direction in np.unique(sector):
        within = np.flatnonzero(sector == direction)
        chosen.add(int(within[np.lexsort((-distance[within], beyond[within]))[0]]))
        chosen.add(int(within[distance[within].argmax()]))
    return _complex(places[sorted(chosen)])


def _is_upper_left(places: Complexes, setting: Setting) -> Flags:
    middle_x, middle_y = setting.left + setting.width / 2.0, setting.near + setting.depth / 2.0
    return np.asarray((places.real <= middle_x) & (places.imag >= middle_y))


def _trios(keys: Complexes, holes: Complexes, *, key_upper_left: bool) -> Complexes:
    """(m, 3) every key with every two holes."""
    pairs = np.array(list(combinations(range(holes.size), 2)), dtype=int).reshape(-1, 2)
    first = np.repeat(keys, len(pairs))
    others = np.tile(holes[pairs], (keys.size, 1))
    trios = np.column_stack((first, others))
    if key_upper_left:
        up_left = trios.imag - trios.real
        trios = trios[up_left[:, 0] >= up_left[:, 1:].max(axis=1, initial=-np.inf) + PLAINLY_MM]
    return trios


def _lightest(patterns: Complexes, ground: MarkGround, clearances: Clearances) -> Pattern | None:
    apart = _least_distances(patterns) >= 2.0 * clearances.to_edge(is_key=True)
    patterns = patterns[apart & (variances(patterns, ground.box) <= LARGEST_VARIANCE)]
    patterns = patterns[worst_wrong_fits(patterns) >= SOUGHT_MISS_MM]
    if not len(patterns):
        return None
    radius = clearances.rule.hole_mm / 2.0
    weights = _film_areas(patterns, ground.box, radius) * variances(patterns, ground.box)
    chosen = patterns[weights.argmin()]
    return Pattern(np.column_stack((chosen.real, chosen.imag)), float(weights.min()))


def _least_distances(patterns: Complexes) -> Floats:
    """(m,) mm between the two nearest marks of each pattern."""
    pairs = combinations(range(patterns.shape[1]), 2)
    return np.asarray(np.min([np.abs(patterns[:, a] - patterns[:, b]) for a, b in pairs], axis=0))


def _film_areas(patterns: Complexes, box: Bounds, radius: float) -> Floats:
    """(m,) mm2 of the box round part and marks."""
    width = np.maximum(patterns.real.max(axis=1) + radius, box[2])
    width -= np.minimum(patterns.real.min(axis=1) - radius, box[0])
    depth = np.maximum(patterns.imag.max(axis=1) + radius, box[3])
    depth -= np.minimum(patterns.imag.min(axis=1) - radius, box[1])
    return np.asarray(width * depth)


def variances(patterns: Complexes, box: Bounds) -> Floats:
    """(m,) variance of the place of the part's worst corner for marks read with variance 1.

    A pose fitted to n readings is off by 1 / n from the shift and r2 / sum(r_i2) from the turn, r from the
    marks' mean (least squares, one turn).
    """
    middle = patterns.mean(axis=1)
    corners = np.array([complex(x, y) for x in (box[0], box[2]) for y in (box[1], box[3])])
    lever = np.abs(corners[None, :] - middle[:, None]).max(axis=1) ** 2
    spread = np.sum(np.abs(patterns - middle[:, None]) ** 2, axis=1)
    return np.asarray(1.0 / patterns.shape[1] + lever / np.maximum(spread, np.finfo(float).tiny))
