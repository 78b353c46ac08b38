"""Patches of a few pixels, which are noise and no shape."""

from dataclasses import dataclass

import cv2
import numpy as np

from core.picture.labels import DIRECTIONS, Labels, Pixel
from core.picture.plateau import Mask


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Cleaned:
    """labels (h, w) without specks, and how many there were."""

    labels: Labels
    specks: int


def without_specks(labels: Labels, count: int, largest_px: int) -> Cleaned:
    """Give every patch of at most largest_px pixels to what lies round it; corners connect."""
    small = np.zeros(labels.shape, dtype=bool)
    specks = 0
    for index in range(count):
        own = (labels == index).astype(np.uint8)
        _, patches, stats, _ = cv2.connectedComponentsWithStats(own, connectivity=8)
        is_speck = stats[:, cv2.CC_STAT_AREA] <= largest_px
        is_speck[0] = False  # everything else
        if is_speck.any():
            specks += int(np.count_nonzero(is_speck))
            small |= is_speck[patches]
    return Cleaned(_filled(labels, small, count) if specks else labels, specks)


def _filled(labels: Labels, small: Mask, count: int) -> Labels:
    """Fill from the rim inward: each pixel takes the commonest label of its settled neighbours."""
    filled, open_ = labels.copy(), small.copy()
    while open_.any():
        here = Pixel(*np.nonzero(open_))
        votes = np.zeros((len(here.rows), count), dtype=np.intp)
        for down, right in (*DIRECTIONS, *((-down, -right) for down, right in DIRECTIONS)):
            there = here.moved(np.array(down), np.array(right), labels.shape)
            settled = ~open_[there.rows, there.columns]
            np.add.at(votes, (np.flatnonzero(settled), there.of(filled)[settled]), 1)
        known = votes.any(axis=1)
        if not known.any():  # specks all over: nothing to take a label from
            return labels
        rows, columns = here.rows[known], here.columns[known]
        filled[rows, columns] = votes[known].argmax(axis=1)
        open_[rows, columns] = False
    return filled
