"""The cut seen from the side, in as many columns as a picture has: depth and kinds of chip by the clock."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.played import Chip, Played


@dataclass(frozen=True, eq=False)
class Columns:
    """low, high (n,) mm: how deep and how high the bit is in each; shares (n, kinds) of its time by Chip."""

    low: Floats
    high: Floats
    shares: Floats

    @classmethod
    def of(cls, run: Played, count: int) -> "Columns":
        """The whole run in so many columns of equal time."""
        edges = np.linspace(0.0, run.total(), count + 1)
        z = run.points[:, 2]
        at_edges = np.interp(edges, run.seconds, z)
        low, high = np.minimum(at_edges[:-1], at_edges[1:]), np.maximum(at_edges[:-1], at_edges[1:])
        column = np.clip(np.searchsorted(edges, run.seconds, "right") - 1, 0, count - 1)
        np.minimum.at(low, column, z)
        np.maximum.at(high, column, z)
        return cls(low, high, _shares(run, edges))


def _shares(run: Played, edges: Floats) -> Floats:
    """(n, kinds): the time of each kind up to every edge, by differences."""
    spans = np.diff(run.seconds)
    sums = [np.cumsum(np.where(run.kinds == kind, spans, 0.0)) for kind in Chip]
    until = [np.interp(edges, run.seconds, np.concatenate(([0.0], one))) for one in sums]
    parts = np.diff(np.array(until), axis=1).T
    return np.asarray(parts / np.maximum(parts.sum(axis=1, keepdims=True), 1e-12))
