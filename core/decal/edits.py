"""All that is changed of films by hand, in its order: left out, joined and filled, made fit for the knife."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

from core.decal.by_hand import UNTOUCHED, ByHand
from core.decal.change import NO_AREA, Change, Polygon, changed
from core.decal.fine import AS_FINE, FineWish, fit_for_knife
from core.decal.islands import AS_CUT, IslandWish, islands_changed
from core.decal.left_out import NOTHING, DroppedPiece, LeftOut, parted
from core.decal.reach_under import FLATNESS_MM
from core.findings import Finding
from core.outline.polygon import to_solid


@dataclass(frozen=True, eq=False)
class Edited:
    """outs: of each film what is left out; changes: then made in their order; what was done, and what not."""

    outs: tuple[Polygon, ...]
    changes: tuple[Change, ...]
    by_hand: tuple[ByHand, ...]
    findings: tuple[Finding, ...] = ()

    @classmethod
    def nothing(cls, count: int) -> Self:
        """That of so many films which nobody touched."""
        return cls((NO_AREA,) * count, (), (UNTOUCHED,) * count)

    def applied(
        self, films: Sequence[Polygon], face: Polygon, changing: Sequence[Polygon]
    ) -> tuple[list[Polygon], list[tuple[DroppedPiece, ...]]]:
        """The films so changed, and the pieces left out; changing: the changes' areas as every() has them."""
        split = [parted(film, out) for film, out in zip(films, self.outs, strict=True)]
        made, dropped = [film for film, _ in split], [gone for _, gone in split]
        count = len(films)
        for first in range(0, len(changing), 2 * count):
            gains, losses = changing[first : first + count], changing[first + count : first + 2 * count]
            made = changed(made, gains, losses, face)
        return made, dropped


@dataclass(frozen=True)
class Edits:
    """What is left out, what is joined and filled, and what is thickened and opened."""

    left_out: LeftOut = NOTHING
    islands: IslandWish = AS_CUT
    fine: FineWish = AS_FINE

    @property
    def is_nothing(self) -> bool:
        """Whether films are what their patches say."""
        return self.left_out.is_nothing and self.islands.is_nothing and self.fine.is_nothing

    def made(self, films: Sequence[Polygon], face: Polygon) -> tuple[Edited, list[Polygon]]:
        """What this does to films (polygons inside the face, the lowest first), and the films it makes."""
        outs = tuple(NO_AREA if self.left_out.is_nothing else self.left_out.of(film) for film in films)
        now = [parted(film, out)[0] for film, out in zip(films, outs, strict=True)]
        changes: list[Change] = []
        done = [UNTOUCHED] * len(films)
        findings: tuple[Finding, ...] = ()
        if not self.islands.is_nothing:
            islands = islands_changed(now, face, self.islands)
            done = [ByHand(*both) for both in zip(islands.bridges, islands.filled, strict=True)]
            findings, now = islands.findings, _changed(now, islands.change, face)
            changes.append(islands.change)
        if not self.fine.is_nothing:
            fitted = fit_for_knife(now, face, self.fine)
            done = [
                ByHand(one.bridges, one.filled, moved) for one, moved in zip(done, fitted.moved, strict=True)
            ]
            now = _changed(now, fitted.change, face)
            changes.append(fitted.change)
        return Edited(outs, tuple(changes), tuple(done), findings), now


AS_THEY_ARE = Edits()


def _changed(films: Sequence[Polygon], change: Change, face: Polygon) -> list[Polygon]:
    gains, losses = ([to_solid(one, FLATNESS_MM) for one in side] for side in (change.gains, change.losses))
    return changed(films, gains, losses, face)
