"""The stages of a second picture: read, its colours and edges, laid on the first, and its patches' roles.

They run only where a Job has a second picture, and are kept as the other stages are (core/keep.py).
"""

from dataclasses import dataclass

import numpy as np

from core.cancel import CancelToken
from core.findings import Finding
from core.job.choice import Stage
from core.job.job import Job, Source
from core.job.resolve import only_silhouette, pairs_of, second_colour_wish, second_role_wishes
from core.keep import Keeper
from core.outline.measure import contains
from core.outline.outline import Outline
from core.outline.region import Regions
from core.patches.roles import propose
from core.patches.shape import Shape
from core.picture.colours import Colours, find_colours
from core.picture.oklab import to_oklab
from core.picture.picture import Picture
from core.picture.read import read_picture
from core.picture.square import Squared
from core.second.by_hand import pose_of
from core.second.findings import cut_off, findings_of
from core.second.match import Match, match, placed_by_hand
from core.second.second import Second, moved
from core.second.traced import Traced
from core.trace.trace import trace

#: A copy may well be cropped: where that costs film is told by second-cut-off.
TOLD_BETTER = frozenset({"touches-border"})


@dataclass(frozen=True, eq=False)
class Seen:
    """A picture as it was seen: its pixels, colours and edges, px."""

    picture: Picture
    colours: Colours
    traced: Outline


@dataclass(frozen=True, eq=False)
class Laid:
    """The second picture as seen, and where it lies."""

    seen: Seen
    second: Second


def laid(keeper: Keeper, job: Job, face: Source, first: Seen, square: Squared, shape: Shape) -> Laid:
    """Every stage of the second picture. Raises UnreadableFile, BadValue, Cancelled."""
    keep, token = keeper.stage, keeper.token
    picture = keep(Stage.SECOND_READ, (face.digest, face.name), lambda: read_picture(face.data, face.name))
    colours = keep(
        Stage.SECOND_COLOURS, (picture,), lambda: find_colours(picture, second_colour_wish(job), token)
    )
    traced = keep(Stage.SECOND_TRACE, (picture, colours), lambda: trace(picture, colours, token))
    seen = Seen(picture, colours, traced)
    needs = (square, first.colours, first.traced, picture, colours, traced)
    found = keep(Stage.MATCH, needs, lambda: _matched(job, first, square, seen, token))
    second = keep(
        Stage.SECOND_PATCHES,
        (picture, colours, traced, found, shape),
        lambda: _second(job, seen, found, shape),
    )
    return Laid(seen, second)


def findings_on_shape(made: Laid, shape: Shape, as_cut: Regions) -> tuple[Finding, ...]:
    """What is to be said of the second picture, places in the shape's mm."""
    second = made.second
    ends = second.cut_off(made.seen.traced)
    inside = ends[contains(as_cut, ends)] if len(ends) else ends
    seen = tuple(one for one in made.seen.colours.findings if one.code not in TOLD_BETTER)
    own = moved((*seen, *second.patches.findings), second.pose)
    cut = tuple(cut_off((float(x), float(y))) for x, y in inside[:1])
    return (*findings_of(second.match, shape.scale), *cut, *own)


def _matched(job: Job, first: Seen, square: Squared, second: Seen, token: CancelToken) -> Match:
    alone = only_silhouette(job)
    one, other = _traced(first, only_silhouette=alone), _traced(second, only_silhouette=alone)
    pairs = pairs_of(job, square, second.picture)
    if pairs:
        return placed_by_hand(one, other, *pose_of(pairs))
    return match(one, other, token)


def _traced(seen: Seen, *, only_silhouette: bool) -> Traced:
    size = (seen.picture.width, seen.picture.height)
    lightness = tuple(float(light) for light in to_oklab(seen.colours.palette)[:, 0])
    return Traced(seen.traced, size, lightness, seen.colours.ground, only_silhouette)


def _second(job: Job, seen: Seen, found: Match, shape: Shape) -> Second:
    pose = found.pose.placed(shape.scale, shape.shift)
    palette = [
        (float(red), float(green), float(blue)) for red, green, blue in np.asarray(seen.colours.palette)
    ]
    patches = propose(
        seen.traced,
        palette,
        seen.colours.ground,
        second_role_wishes(job, seen.picture),
        job.shape.smallest.value / pose.scale**2,
    )
    size = (seen.picture.width, seen.picture.height)
    return Second(found, pose, pose.outline(seen.traced), patches, size)
