"""Sparse symmetric equations that fall apart into groups: laid out once, filled and solved many times.

Plot: unknowns that share an equation belong to one group. A small group is a dense square, many of one size
stacked and solved together. The unknowns of a large one are numbered by breadth first, so that only
neighbours within a narrow band share equations; cut into blocks as long as the band is wide, each block
meets only the one before and the one after, and is eliminated in turn.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints

#: Sizes to which small groups are padded; larger groups are banded. A size of 96 also stays below what any
#: common linear algebra library spreads over cores, so that answers do not depend on their number.
SIZES = (6, 12, 18, 24, 36, 48, 64, 96)

#: Least length of a block; shorter ones cost more in calls than they save in work.
LEAST_BLOCK = 24


@dataclass(frozen=True, eq=False)
class Stack:
    """Dense groups of one padded size: unknowns (g, size), -1 where padded; first place in the store."""

    unknowns: Ints
    first: int


@dataclass(frozen=True, eq=False)
class Band:
    """A large group in blocks: unknowns (b, w), -1 where padded; first place of its 2 b blocks of w x w."""

    unknowns: Ints
    first: int


@dataclass(frozen=True, eq=False)
class Layout:
    """Where each product of two unknowns is stored, and the group of each unknown.

    The last place of all, size, is for what is not stored.
    """

    stacks: tuple[Stack, ...]
    bands: tuple[Band, ...]
    size: int
    place: Ints
    base: Ints
    width: Ints
    block: Ints
    group: Ints

    def addresses(self, rows: Ints, columns: Ints) -> Ints:
        """The place in the store for products of unknowns; -1 stands for no unknown.

        Products of unknowns of two groups are not stored.
        """
        row_block, column_block = self.block[rows], self.block[columns]
        width, base = self.width[rows], self.base[rows]
        dense = base + self.place[rows] * width + self.place[columns]
        behind = row_block - column_block
        found = np.where(row_block < 0, dense, dense + (2 * row_block + behind) * width * width)
        dropped = (rows < 0) | (columns < 0) | (behind < 0) | (behind > 1)
        dropped |= self.group[rows] != self.group[columns]
        return np.asarray(np.where(dropped, self.size, found))


def laid_out(count: int, links: Ints) -> Layout:
    """Room for count unknowns; every row of links (m, k) are unknowns that share an equation, -1 for none.

    The first of each row must be one.
    """
    neighbours = _neighbours(count, links)
    place, base = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    width, block = np.ones(count, dtype=np.int64), np.full(count, -1, dtype=np.int64)
    group_of = np.zeros(count, dtype=np.int64)
    small: dict[int, list[list[int]]] = {}
    bands: list[Band] = []
    size = 0
    for number, group in enumerate(_groups(count, neighbours)):
        group_of[group] = number
        fitting = next((s for s in SIZES if s >= len(group)), 0)
        if fitting:
            small.setdefault(fitting, []).append(group)
            continue
        # Breadth first from the far end, so that every level is as narrow as it can be.
        order = np.array(_reached(group[-1], neighbours, bytearray(count)), dtype=np.int64)
        place[order] = np.arange(len(order))
        wide = max(_reach(place, links[group_of[links[:, 0]] == number]), LEAST_BLOCK)
        padded = np.full(-(-len(order) // wide) * wide, -1, dtype=np.int64)
        padded[: len(order)] = order
        bands.append(Band(padded.reshape(-1, wide), size))
        block[order], place[order] = np.divmod(np.arange(len(order)), wide)
        width[order], base[order] = wide, size
        size += 2 * len(padded) * wide
    stacks = []
    for side, groups in sorted(small.items()):
        unknowns = np.array([group + [-1] * (side - len(group)) for group in groups])
        stacks.append(Stack(unknowns, size))
        slot, within = np.nonzero(unknowns >= 0)
        inside = unknowns[slot, within]
        place[inside], width[inside], base[inside] = within, side, size + slot * side * side
        size += unknowns.size * side
    return Layout(tuple(stacks), tuple(bands), size, place, base, width, block, group_of)


def _neighbours(count: int, links: Ints) -> list[list[int]]:
    """What each unknown reaches: the first of a row all others of it, and they the first."""
    first, other = np.repeat(links[:, 0], links.shape[1] - 1), links[:, 1:].ravel()
    first, other = first[other >= 0], other[other >= 0]
    pairs = np.unique(np.concatenate((first * count + other, other * count + first)))
    here, there = np.divmod(pairs, max(count, 1))
    ends = np.searchsorted(here, np.arange(count + 1)).tolist()
    reached = there.tolist()
    return [reached[start:stop] for start, stop in pairwise(ends)]


def _reached(start: int, neighbours: list[list[int]], seen: bytearray) -> list[int]:
    """Everything that hangs together with start, nearest first."""
    order = [start]
    seen[start] = 1
    for here in order:
        for there in neighbours[here]:
            if not seen[there]:
                seen[there] = 1
                order.append(there)
    return order


def _groups(count: int, neighbours: list[list[int]]) -> list[list[int]]:
    seen = bytearray(count)
    return [_reached(start, neighbours, seen) for start in range(count) if not seen[start]]


def _reach(place: Ints, links: Ints) -> int:
    """How far apart two unknowns of one row are at most."""
    there = links >= 0
    low = np.where(there, place[links], len(place)).min(axis=1)
    return int((np.where(there, place[links], -1).max(axis=1) - low).max())


def solved(layout: Layout, store: Floats, right: Floats, wanted: Bools) -> Floats:
    """The unknowns (count,) of the wanted groups from the store of sums of products and the right sides.

    Those of other groups, and of a group in whose equations something is not finite, are 0.
    """
    answer = np.zeros_like(right)
    for stack in layout.stacks:
        groups, side = stack.unknowns.shape
        picked = wanted[layout.group[stack.unknowns[:, 0]]]
        whole = store[stack.first : stack.first + groups * side * side].reshape(groups, side, side)
        square, unknowns = whole[picked], stack.unknowns[picked]
        there = unknowns >= 0
        _fill_padding(square, there)
        sides = np.where(there, right[unknowns], 0.0)
        good = np.isfinite(square).all(axis=(1, 2)) & np.isfinite(sides).all(axis=1)
        square[~good], sides[~good] = np.eye(side), 0.0
        found = np.linalg.solve(square, sides[..., None])[..., 0]
        answer[unknowns[there]] = found[there]
    for band in layout.bands:
        if not wanted[layout.group[band.unknowns[0, 0]]]:
            continue
        answer[band.unknowns[band.unknowns >= 0]] = _eliminated(band, store, right)
    return answer


def _fill_padding(square: Floats, there: Bools) -> None:
    slot, within = np.nonzero(~there)
    square[slot, within, within] = 1.0


def _eliminated(band: Band, store: Floats, right: Floats) -> Floats:
    blocks, wide = band.unknowns.shape
    there = band.unknowns >= 0
    both = store[band.first : band.first + 2 * blocks * wide * wide].reshape(blocks, 2, wide, wide).copy()
    own, back = both[:, 0], both[:, 1]
    _fill_padding(own, there)
    wanted = np.where(there, right[band.unknowns], 0.0)
    if not (np.isfinite(both).all() and np.isfinite(wanted).all()):
        return np.zeros(int(there.sum()))
    ahead = np.empty((blocks, wide, wide + 1))
    for at in range(blocks):
        square, side = own[at], wanted[at]
        if at:
            square = square - back[at] @ ahead[at - 1, :, :wide]
            side = side - back[at] @ ahead[at - 1, :, wide]
        coupling = back[at + 1].T if at + 1 < blocks else np.zeros((wide, wide))
        ahead[at] = np.linalg.solve(square, np.column_stack((coupling, side)))
    found = ahead[:, :, wide].copy()
    for at in range(blocks - 2, -1, -1):
        found[at] -= ahead[at, :, :wide] @ found[at + 1]
    return np.asarray(found[there])
