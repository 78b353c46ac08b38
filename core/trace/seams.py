"""All pieces of all runs in one row, and where each of them meets the next."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.joints import Curves, joints, together
from core.trace.pieces import Run
from core.trace.rows import Rows, rows_of


@dataclass(frozen=True, eq=False)
class Seams:
    """The curves (k,) of all runs and is_arc (k,); pieces tells whose each is.

    places (n, 2) px are all samples, tracks tells whose; first and last (k,) those between which each piece
    runs. rows tells whose each seam (j,) is, in order (a ring's begin where it is cut; one of a single piece
    has none); before and after (j,) are its curves, near (j, 2) px the sample between them.
    """

    curves: Curves
    is_arc: Bools
    pieces: Rows
    places: Floats
    tracks: Rows
    first: Ints
    last: Ints
    rows: Rows
    before: Ints
    after: Ints

    @cached_property
    def near(self) -> Floats:
        """(j, 2) px, the sample where two pieces meet."""
        return np.asarray(self.places[self.first[self.after]])

    @cached_property
    def points(self) -> Floats:
        """(j, 2) px, where the curves of two pieces meet."""
        return joints(self.curves[self.before], self.curves[self.after], self.near)


def seams_of(runs: tuple[Run, ...]) -> Seams:
    """Of at least one run."""
    breaks = [run.pieces.breaks if run.pieces else np.zeros(1, dtype=np.int64) for run in runs]
    pieces = Rows(np.array([len(own) - 1 for own in breaks]))
    tracks = rows_of(tuple(run.track.places for run in runs))
    is_ring = np.array([run.chain.is_ring for run in runs])
    rows = Rows(np.where(is_ring & (pieces.count > 1), pieces.count, np.maximum(pieces.count - 1, 0)))
    base, after = pieces.first[rows.owner], rows.within + ~is_ring[rows.owner]
    every = np.concatenate(breaks) + np.repeat(tracks.first, pieces.count + 1)
    place = pieces.first[pieces.owner] + pieces.owner + pieces.within  # every run has one break more
    return Seams(
        together([run.curves for run in runs]),
        np.concatenate([np.empty(0, dtype=bool), *(run.pieces.is_arc for run in runs if run.pieces)]),
        pieces,
        np.concatenate([run.track.places for run in runs]),
        tracks,
        every[place],
        every[place + 1],
        rows,
        base + (after - 1) % np.maximum(pieces.count, 1)[rows.owner],
        base + after,
    )
