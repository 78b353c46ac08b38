"""The few flat colours of a picture: a palette, and for every pixel the one it belongs to."""

from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from core.cancel import NEVER, CancelToken
from core.errors import BadShape, BadValue, UnreadableFile
from core.findings import Finding, Level
from core.picture.fineness import contrast, enough, pale, touching_pairs
from core.picture.ground import Framed, index_nearest, settle_ground, touching
from core.picture.labels import labelled, nearest
from core.picture.palette import Proposal, propose, refined
from core.picture.picture import Picture, locked
from core.picture.plateau import Plateaus, plateaus_of, smoothed
from core.picture.specks import without_specks

Palette = npt.NDArray[np.float64]
Rgb = tuple[float, float, float]
Labels = npt.NDArray[np.uint8]

#: Labels are one byte, and nobody cuts more films than this.
MOST_COLOURS = 64
#: px; patches no larger are noise: no shape has sides of less than two pixels.
SPECK_PX = 4
#: Share of a photograph below which a patch is grain and no shape: 12 px square in 900 x 900.
_PHOTO_SPECK = 0.0002
#: Places in which two colours must lie side by side for their contrast to matter.
_BESIDE = 12
#: Share of the picture that is transparent from which on transparent means ground.
_TRANSPARENT = 0.001


@dataclass(frozen=True)
class ColourWish:
    """What the maker asks, colours as 0..1 RGB: how many there are, which one is the ground; None: propose.

    palette: the colours themselves, instead of proposed ones. merged: pairs of colours of which the first
    takes in the second.
    """

    count: int | None = None
    ground: Rgb | None = None
    palette: tuple[Rgb, ...] | None = None
    merged: tuple[tuple[Rgb, Rgb], ...] = ()


@dataclass(frozen=True, eq=False)  # no ==: two arrays have no single truth value
class Colours:
    """palette (k, 3) float64 on the picture's scale, labels (h, w) uint8 into it, ground an index of it.

    Kept read-only; else BadShape. A label says which flat colour a pixel belongs to, the nearer of two at
    a soft edge. Findings have their place in picture px: x from the left edge, y up from the bottom edge.
    """

    palette: Palette
    labels: Labels
    ground: int
    findings: tuple[Finding, ...] = ()

    def __post_init__(self) -> None:
        palette, labels = locked(self.palette, np.float64), locked(self.labels, np.uint8)
        if palette.ndim != 2 or palette.shape[1] != 3 or not 1 <= len(palette) <= MOST_COLOURS:
            raise BadShape(f"palette {palette.shape}: not (1 to {MOST_COLOURS}, 3)")
        if labels.ndim != 2 or labels.size == 0 or int(labels.max()) >= len(palette):
            raise BadShape(f"labels {labels.shape} that a palette of {len(palette)} does not explain")
        if not 0 <= self.ground < len(palette):
            raise BadShape(f"ground {self.ground} of {len(palette)} colours")
        object.__setattr__(self, "palette", palette)
        object.__setattr__(self, "labels", labels)

    def __reduce__(self) -> tuple[type["Colours"], tuple[Any, ...]]:
        # An unpickled array can be written to again; going through the constructor locks it.
        return Colours, (self.palette, self.labels, self.ground, self.findings)


def find_colours(picture: Picture, wish: ColourWish, token: CancelToken = NEVER) -> Colours:
    """Find the flat colours, the colour of every pixel and the ground; what is asked for goes first.

    UnreadableFile where there is one colour only, BadValue for a count of colours that cannot be; Cancelled
    by the token, which is asked between the steps.
    """
    _refuse_count(wish.count)
    plateaus = plateaus_of(picture.pixels)
    token.check()
    proposal = _proposal(plateaus, wish)
    _refuse_one_colour(len(proposal.rgb), picture.name)
    token.check()
    labels = _labels(plateaus, proposal)
    token.check()
    cleaned = without_specks(labels, len(proposal.rgb), _speck_px(proposal, labels.size))
    token.check()
    palette = refined(proposal.rgb, cleaned.labels, picture.pixels, plateaus)
    labels = merged(cleaned.labels, palette, wish.merged)
    framed = settle_ground(labels, palette, _asked_ground(palette, picture, wish))
    found = Found(
        palette, framed, (*_findings(proposal, cleaned.specks, framed), *_pale(palette, framed, plateaus))
    )
    return _compacted(found, wish, picture.name)


def _proposal(plateaus: Plateaus, wish: ColourWish) -> Proposal:
    """The colours that are proposed, or those that are given; a photograph stays one whatever is given."""
    if wish.palette is None:
        return propose(plateaus, wish.count)
    return replace(propose(plateaus, None), rgb=np.array(wish.palette, dtype=np.float64))


def merged(labels: Labels, palette: Palette, pairs: tuple[tuple[Rgb, Rgb], ...]) -> Labels:
    """The labels with the colour nearest to each pair's second made that nearest to its first."""
    if not pairs:
        return labels
    into = np.arange(len(palette), dtype=np.uint8)
    for first, second in pairs:
        into[into == into[index_nearest(palette, second)]] = into[index_nearest(palette, first)]
    return into[labels]


def _refuse_count(count: int | None) -> None:
    if count is not None and not 2 <= count <= MOST_COLOURS:
        raise BadValue(f"{count} colours cannot be asked for: 2 to {MOST_COLOURS} can.")


def _refuse_one_colour(count: int, name: str) -> None:
    if count < 2:
        raise UnreadableFile(f"{name} shows one colour only: there is no shape in it.")


def _labels(plateaus: Plateaus, proposal: Proposal) -> Labels:
    """Label the pixels; a photograph has no clean edges whose rims could be told from its shades."""
    if proposal.is_photograph:
        return nearest(smoothed(plateaus.bytes), proposal.rgb)
    return labelled(plateaus, proposal.rgb)


def _speck_px(proposal: Proposal, pixels: int) -> int:
    return max(SPECK_PX, int(pixels * _PHOTO_SPECK)) if proposal.is_photograph else SPECK_PX


def _asked_ground(palette: Palette, picture: Picture, wish: ColourWish) -> int | None:
    """Return the colour asked for as ground, else the transparent one, else None."""
    if wish.ground is not None:
        return index_nearest(palette, wish.ground)
    if picture.alpha is None or picture.matte is None:
        return None
    transparent = np.count_nonzero(picture.alpha < 0.5) / picture.alpha.size
    return index_nearest(palette, picture.matte) if transparent >= _TRANSPARENT else None


def _findings(proposal: Proposal, specks: int, framed: Framed) -> tuple[Finding, ...]:
    found = (
        _PHOTOGRAPH if proposal.is_photograph else None,
        touching(framed.labels, framed.ground),
        _frame_ignored(framed) if framed.frame_at else None,
        _specks_removed(specks) if specks else None,
    )
    return tuple(finding for finding in found if finding)


def _pale(palette: Palette, framed: Framed, plateaus: Plateaus) -> tuple[Finding, ...]:
    noise = plateaus.flat_range if plateaus.is_noisy else 0
    if all(contrast(palette, *pair) >= enough(noise) for pair in combinations(range(len(palette)), 2)):
        return ()  # as nearly always: which of them touch need not be asked
    return pale(palette, touching_pairs(framed.labels, len(palette), _BESIDE), noise)


_PHOTOGRAPH = Finding(
    Level.CAUTION,
    "photograph",
    "The picture has shades rather than a few flat colours, so where its edges lie is a matter of choice.",
    "Set the number of colours, or draw the picture over in flat colours.",
)


def _frame_ignored(framed: Framed) -> Finding:
    return Finding(
        Level.NOTE,
        "frame-ignored",
        "A frame or dark rim along the sides of the picture is taken as ground.",
        "If it belongs to the shape, use a picture with a wider margin round it.",
        framed.frame_at,
    )


def _specks_removed(specks: int) -> Finding:
    return Finding(
        Level.NOTE,
        "specks-removed",
        f"{specks} speck{'s' if specks > 1 else ''} of a few pixels taken as noise.",
        "If one of them matters, use a larger picture.",
    )


@dataclass(frozen=True, eq=False)  # no ==: two arrays have no single truth value
class Found:
    """What was found, with colours in the palette that may have no pixel any more."""

    palette: Palette
    framed: Framed
    findings: tuple[Finding, ...]


def _compacted(found: Found, wish: ColourWish, name: str) -> Colours:
    """Leave out the colours that no pixel has any more, as that of a frame."""
    labels, ground = found.framed.labels, found.framed.ground
    used = np.bincount(labels.ravel(), minlength=len(found.palette)) > 0
    left = int(used.sum())
    _refuse_one_colour(left, name)
    if not used[ground]:  # all of the picture would be shape
        raise UnreadableFile(f"{name} has nothing left of the ground colour that was asked for.")
    places = (np.cumsum(used) - 1).astype(np.uint8)
    fewer = (_fewer(wish.count, left),) if wish.count and left < wish.count else ()
    relabelled = labels if used.all() else places[labels]
    return Colours(found.palette[used], relabelled, int(places[ground]), found.findings + fewer)


def _fewer(asked: int, found: int) -> Finding:
    return Finding(
        Level.NOTE,
        "fewer-colours",
        f"{asked} colours were asked for; the picture has {found} that hold a place of their own.",
        f"Ask for {found} colours, or leave their number to the picture.",
    )
