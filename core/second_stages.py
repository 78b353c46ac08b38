"""The stages of a second picture: read, its colours and edges, laid on the first, and its patches' roles.

They run only where a Job has a second picture, and are kept as the other stages are (core/keep.py).
"""

from dataclasses import dataclass

import numpy as np

from core.artwork.artwork import artwork_of
from core.artwork.pictured import painting_of
from core.artwork.read import kind_of, read_artwork
from core.artwork.scheme import scheme_of
from core.cancel import CancelToken
from core.findings import Finding
from core.job.choice import Stage
from core.job.job import Job, Source
from core.job.resolve import only_silhouette, pairs_of, second_colour_wish, second_role_wishes, square_wish
from core.keep import Keeper
from core.outline.measure import contains
from core.outline.outline import Outline
from core.outline.region import Regions
from core.outlined import Outlined, fine_height
from core.patches.roles import propose
from core.patches.shape import Shape
from core.picture.colours import Colours, find_colours
from core.picture.light import evened
from core.picture.oklab import to_oklab
from core.picture.picture import Picture
from core.picture.plane import AS_IT_IS, Plane, scaled
from core.picture.read import read_picture
from core.picture.square import as_read, seen_through
from core.second.by_hand import pose_of
from core.second.findings import cut_off, findings_of
from core.second.match import Match, match, placed_by_hand
from core.second.second import Second, moved
from core.second.traced import Traced
from core.trace.trace import trace

#: A copy may well be cropped: where that costs film is told by second-cut-off.
TOLD_BETTER = frozenset({"touches-border"})

#: The stage in which the picture of a second drawing is painted.
SECOND_PAINT = "second-paint"


@dataclass(frozen=True, eq=False)
class Seen:
    """A picture as it was seen: its pixels, colours and edges, px; plane takes its source's px to them."""

    picture: Picture
    colours: Colours
    traced: Outline
    plane: Plane = AS_IT_IS

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, px."""
        return self.picture.width, self.picture.height


@dataclass(frozen=True, eq=False)
class Squarely:
    """A picture and the map that it was seen through."""

    picture: Picture
    plane: Plane


@dataclass(frozen=True, eq=False)
class Laid:
    """The second picture as seen, and where it lies."""

    seen: Seen
    second: Second


def laid(keeper: Keeper, job: Job, face: Source, shows: Outlined, shape: Shape) -> Laid:
    """Every stage of the second picture; shows is the first. Raises UnreadableFile, BadValue, Cancelled."""
    keep, token = keeper.stage, keeper.token
    seen = _of_lines(keeper, job, face) if kind_of(face.data) else _of_pixels(keeper, job, face, shows)
    first = Seen(shows.touched.picture, shows.colours, shows.traced, shows.squared.plane)
    needs = (shows.squared, first.colours, first.traced, seen.picture, seen.colours, seen.traced)
    found = keep(Stage.MATCH, needs, lambda: _matched(job, first, seen, token))
    second = keep(
        Stage.SECOND_PATCHES,
        (shows.squared, seen.colours, seen.traced, found, shape),
        lambda: _second(job, seen, found, shape),
    )
    return Laid(seen, second)


def _of_pixels(keeper: Keeper, job: Job, face: Source, shows: Outlined) -> Seen:
    keep, token = keeper.stage, keeper.token
    is_evened = square_wish(job).is_evened
    needs = (face.digest, face.name, shows.squared, is_evened)
    read = keep(Stage.SECOND_READ, needs, lambda: _read(face, shows, is_evened=is_evened))
    picture = read.picture
    colours = keep(
        Stage.SECOND_COLOURS, (picture,), lambda: find_colours(picture, second_colour_wish(job), token)
    )
    traced = keep(Stage.SECOND_TRACE, (picture, colours), lambda: trace(picture, colours, token))
    return Seen(picture, colours, traced, read.plane)


def _read(face: Source, shows: Outlined, *, is_evened: bool) -> Squarely:
    """The second picture; one as large as the first is a copy of it, and is made square as that was."""
    picture, upright, square = read_picture(face.data, face.name), shows.picture, shows.squared
    is_copy = (picture.width, picture.height) == (upright.width, upright.height)
    plane = square.plane if is_copy else as_read(picture)
    if is_copy:
        onto = plane if picture.reduced == 1 else scaled(picture.reduced).then(plane)
        picture = seen_through(picture, onto, (square.picture.width, square.picture.height))
    return Squarely(evened(picture).picture if is_evened else picture, plane)


def _of_lines(keeper: Keeper, job: Job, face: Source) -> Seen:
    """The same of a drawing that is already lines."""
    keep, fine = keeper.stage, fine_height(job, None)
    drawn = keep(Stage.SECOND_READ, (face.digest, face.name), lambda: read_artwork(face.data, face.name))
    scheme = keep(Stage.SECOND_COLOURS, (drawn,), lambda: scheme_of(drawn, second_colour_wish(job)))
    artwork = keep(Stage.SECOND_TRACE, (drawn, scheme, fine), lambda: artwork_of(drawn, scheme, fine))
    made = (artwork, face.name, face.digest)
    painting = keep(SECOND_PAINT, made, lambda: painting_of(*made))
    return Seen(painting.picture, painting.colours, artwork.outline)


def findings_on_shape(made: Laid, shape: Shape, as_cut: Regions) -> tuple[Finding, ...]:
    """What is to be said of the second picture, places in the shape's mm."""
    second = made.second
    ends = second.cut_off(made.seen.traced)
    inside = ends[contains(as_cut, ends)] if len(ends) else ends
    seen = tuple(one for one in made.seen.colours.findings if one.code not in TOLD_BETTER)
    own = moved((*seen, *second.patches.findings), second.pose)
    cut = tuple(cut_off((float(x), float(y))) for x, y in inside[:1])
    return (*findings_of(second.match, shape.scale), *cut, *own)


def _matched(job: Job, first: Seen, second: Seen, token: CancelToken) -> Match:
    alone = only_silhouette(job)
    one, other = _traced(first, only_silhouette=alone), _traced(second, only_silhouette=alone)
    pairs = pairs_of(job, (second.plane, second.size[1]), (first.plane, first.size[1]))
    if pairs:
        return placed_by_hand(one, other, *pose_of(pairs))
    return match(one, other, token)


def _traced(seen: Seen, *, only_silhouette: bool) -> Traced:
    lightness = tuple(float(light) for light in to_oklab(seen.colours.palette)[:, 0])
    return Traced(seen.traced, seen.size, lightness, seen.colours.ground, only_silhouette)


def _second(job: Job, seen: Seen, found: Match, shape: Shape) -> Second:
    pose = found.pose.placed(shape.scale, shape.shift)
    palette = [
        (float(red), float(green), float(blue)) for red, green, blue in np.asarray(seen.colours.palette)
    ]
    patches = propose(
        seen.traced,
        palette,
        seen.colours.ground,
        second_role_wishes(job, seen.plane, seen.size[1]),
        job.shape.smallest.value / pose.scale**2,
        pose.scale,
    )
    return Second(found, pose, pose.outline(seen.traced), patches, seen.size)
