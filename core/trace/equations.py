"""Sparse symmetric equations that fall apart into groups: laid out once, filled and solved many times.

Plot: unknowns that share an equation belong to one group. A small group is a dense square, many of one size
stacked and solved together. The unknowns of a large one are numbered by breadth first, so that only
neighbours within a narrow band share equations; cut into blocks as long as the band is wide, each block
meets only the one before and the one after, and is eliminated in turn.
"""

from collections import deque
from dataclasses import dataclass

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
    """Where each product of two unknowns is stored; the last place of all is for what is not stored."""

    stacks: tuple[Stack, ...]
    bands: tuple[Band, ...]
    size: int
    place: Ints
    base: Ints
    width: Ints
    block: Ints

    def addresses(self, rows: Ints, columns: Ints) -> Ints:
        """The place in the store for products of unknowns, both of one group; -1 stands for no unknown."""
        row_block, column_block = self.block[rows], self.block[columns]
        width, base = self.width[rows], self.base[rows]
        dense = base + self.place[rows] * width + self.place[columns]
        behind = row_block - column_block
        found = np.where(row_block < 0, dense, dense + (2 * row_block + behind) * width * width)
        dropped = (rows < 0) | (columns < 0) | (behind < 0) | (behind > 1)
        return np.asarray(np.where(dropped, self.size, found))


def laid_out(count: int, links: Ints) -> Layout:
    """Room for count unknowns; every row of links (m, k) are unknowns that share an equation, -1 for none."""
    neighbours = _neighbours(count, links)
    place, base = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    width, block = np.ones(count, dtype=np.int64), np.full(count, -1, dtype=np.int64)
    small: dict[int, list[list[int]]] = {}
    bands: list[Band] = []
    size = 0
    for group in _groups(count, neighbours):
        fitting = next((s for s in SIZES if s >= len(group)), 0)
        if fitting:
            small.setdefault(fitting, []).append(group)
            continue
        order = _numbered(group, neighbours)
        band = _blocks(order, neighbours, size)
        bands.append(band)
        wide = band.unknowns.shape[1]
        place[order], block[order] = np.arange(len(order)) % wide, np.arange(len(order)) // wide
        width[order], base[order] = wide, size
        size += 2 * band.unknowns.size * wide
    stacks = []
    for side, groups in sorted(small.items()):
        unknowns = np.array([group + [-1] * (side - len(group)) for group in groups])
        stacks.append(Stack(unknowns, size))
        slot, within = np.nonzero(unknowns >= 0)
        inside = unknowns[slot, within]
        place[inside], width[inside], base[inside] = within, side, size + slot * side * side
        size += unknowns.size * side
    return Layout(tuple(stacks), tuple(bands), size, place, base, width, block)


def _neighbours(count: int, links: Ints) -> list[list[int]]:
    found: list[list[int]] = [[] for _ in range(count)]
    for row in links.tolist():
        there = [item for item in row if item >= 0]
        for item in there:
            found[item] += there
    return found


def _reached(start: int, neighbours: list[list[int]], seen: bytearray) -> list[int]:
    """Everything that hangs together with start, nearest first."""
    order, queue = [], deque([start])
    seen[start] = 1
    while queue:
        here = queue.popleft()
        order.append(here)
        for there in neighbours[here]:
            if not seen[there]:
                seen[there] = 1
                queue.append(there)
    return order


def _groups(count: int, neighbours: list[list[int]]) -> list[list[int]]:
    seen = bytearray(count)
    return [_reached(start, neighbours, seen) for start in range(count) if not seen[start]]


def _numbered(group: list[int], neighbours: list[list[int]]) -> Ints:
    """Breadth first from the far end, so that every level is as narrow as it can be."""
    far = group[-1]
    return np.array(_reached(far, neighbours, bytearray(len(neighbours))), dtype=np.int64)


def _blocks(order: Ints, neighbours: list[list[int]], first: int) -> Band:
    number = {item: at for at, item in enumerate(order.tolist())}
    reach = max(max(number[there] for there in neighbours[item]) - at for item, at in number.items())
    wide = max(reach, LEAST_BLOCK)
    padded = np.full(-(-len(order) // wide) * wide, -1, dtype=np.int64)
    padded[: len(order)] = order
    return Band(padded.reshape(-1, wide), first)


def solved(layout: Layout, store: Floats, right: Floats) -> Floats:
    """The unknowns (count,) from the store of sums of products and the right sides (count,).

    A group whose equations have no answer, because something in them is not finite, stays at 0.
    """
    answer = np.zeros_like(right)
    for stack in layout.stacks:
        groups, side = stack.unknowns.shape
        square = store[stack.first : stack.first + groups * side * side].reshape(groups, side, side).copy()
        there = stack.unknowns >= 0
        _fill_padding(square, there)
        wanted = np.where(there, right[stack.unknowns], 0.0)
        good = np.isfinite(square).all(axis=(1, 2)) & np.isfinite(wanted).all(axis=1)
        square[~good], wanted[~good] = np.eye(side), 0.0
        found = np.linalg.solve(square, wanted[..., None])[..., 0]
        answer[stack.unknowns[there]] = found[there]
    for band in layout.bands:
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
