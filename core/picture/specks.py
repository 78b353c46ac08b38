"""Patches of a few pixels, which are noise and no shape."""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.labels import DIRECTIONS, Labels, Pixel
from core.picture.plateau import Mask

#: Steps to the eight neighbours.
AROUND = (*DIRECTIONS, *((-down, -right) for down, right in DIRECTIONS))


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Cleaned:
    """labels (h, w) without small patches, and how many of them were specks, with one colour all round.

    The others were slivers at an edge, the remains of a blend, and nothing a maker would miss.
    """

    labels: Labels
    specks: int


def without_specks(labels: Labels, count: int, largest_px: int) -> Cleaned:
    """Give every patch of at most largest_px pixels to what lies round it; corners connect."""
    small = np.zeros(labels.shape, dtype=bool)
    specks = 0
    for index in range(count):
        own = (labels == index).astype(np.uint8)
        _, patches, stats, _ = cv2.connectedComponentsWithStats(own, connectivity=8)
        is_small = stats[:, cv2.CC_STAT_AREA] <= largest_px
        is_small[0] = False  # everything else
        if is_small.any():
            here = is_small[patches]
            specks += _enclosed(labels, patches, here, index)
            small |= here
    return Cleaned(_filled(labels, small, count) if small.any() else labels, specks)


def _enclosed(labels: Labels, patches: npt.NDArray[np.int32], small: Mask, own: int) -> int:
    """Count the small patches of a colour that have one other colour all round."""
    here = Pixel(*np.nonzero(small))
    patch = patches[here.rows, here.columns]
    lowest = np.full(int(patch.max()) + 1, 255, dtype=np.uint8)
    highest = np.zeros(lowest.size, dtype=np.uint8)
    for down, right in AROUND:
        beside = here.moved(np.array(down), np.array(right), labels.shape).of(labels)
        other = beside != own
        np.minimum.at(lowest, patch[other], beside[other])
        np.maximum.at(highest, patch[other], beside[other])
    return int(np.count_nonzero(lowest == highest))


def _filled(labels: Labels, small: Mask, count: int) -> Labels:
    """Fill from the rim inward: each pixel takes the commonest label of its settled neighbours."""
    filled, still_open = labels.copy(), small.copy()
    here = Pixel(*np.nonzero(small))
    while len(here.rows):
        votes = _votes(filled, still_open, here, count)
        known = votes.any(axis=1)
        if not known.any():  # small patches all over: nothing to take a label from
            return labels
        rows, columns = here.rows[known], here.columns[known]
        filled[rows, columns] = votes[known].argmax(axis=1)
        still_open[rows, columns] = False
        here = Pixel(here.rows[~known], here.columns[~known])
    return filled


def _votes(labels: Labels, still_open: Mask, here: Pixel, count: int) -> npt.NDArray[np.intp]:
    """Count (n, count) how many settled neighbours of each pixel have each label."""
    votes = np.zeros((len(here.rows), count), dtype=np.intp)
    for down, right in AROUND:
        there = here.moved(np.array(down), np.array(right), labels.shape)
        settled = np.flatnonzero(~still_open[there.rows, there.columns])
        votes[settled, there.of(labels)[settled]] += 1  # every pixel votes once, so no index comes twice
    return votes
