"""What the source shows, up to the Outline in px: traced from a picture, or taken as it is from artwork.

Which of both a file is, its bytes say. Behind this nobody need know: artwork comes with a picture of it,
in which points that a maker sets on it have their place.
"""

from dataclasses import dataclass
from math import ceil, log2

from core.artwork.artwork import Artwork, artwork_of
from core.artwork.pictured import painting_of, squared_artwork, touched_artwork
from core.artwork.read import kind_of, read_artwork
from core.artwork.scheme import scheme_of
from core.job.choice import AUTO, Stage
from core.job.job import Job, Source
from core.job.resolve import ASSUMED_HEIGHT, colour_wish, square_wish
from core.keep import Keeper
from core.outline.outline import Outline
from core.picture.colours import Colours, find_colours
from core.picture.picture import Picture
from core.picture.read import read_picture
from core.picture.square import Squared, SquareWish, squared
from core.picture.transfer import Transfer, at_edges
from core.touch.paint import Touched, touched
from core.trace.coarser import quick_outline
from core.trace.trace import trace
from core.units import Measure

#: The stage that stands in for the trace in a first look.
FIRST_TRACE = "first-trace"

#: The stage in which the picture of artwork is painted.
PAINT = "paint"


@dataclass(frozen=True, eq=False)
class Outlined:
    """picture is the upright source, or what artwork looks like; traced is in px of the squared picture.

    is_first: traced is the first outline only. artwork is None where the source is a picture.
    """

    picture: Picture
    squared: Squared
    touched: Touched
    colours: Colours
    traced: Outline
    is_first: bool = False
    artwork: Artwork | None = None


def outlined(keeper: Keeper, job: Job, source: Source, *, is_first: bool) -> Outlined:
    """The first stages of a Build, the first outline alone if that will do and none is traced yet.

    Raises UnreadableFile, BadValue, or Cancelled between two stages.
    """
    return (
        _of_lines(keeper, job, source) if kind_of(source.data) else _of_pixels(keeper, job, source, is_first)
    )


def _of_pixels(keeper: Keeper, job: Job, source: Source, is_first: bool) -> Outlined:  # noqa: FBT001 - ours alone
    keep, token = keeper.stage, keeper.token
    picture = keep(Stage.READ, (source.digest, source.name), lambda: _read(job, source))
    square = keep(Stage.SQUARE, (picture,), lambda: squared(picture, square_wish(job)))
    touch = keep(
        Stage.TOUCH, (square,), lambda: touched(square.picture, job.picture.touches, square.plane.many)
    )
    looked_at = touch.picture
    colours = keep(Stage.COLOURS, (looked_at,), lambda: find_colours(looked_at, colour_wish(job), token))
    needs = (looked_at, colours, job.picture.transfer)
    is_first = is_first and not keeper.holds(Stage.TRACE, needs)

    def read() -> tuple[Picture, Colours]:
        return at_edges(looked_at, colours, Transfer(job.picture.transfer))

    if is_first:
        outline = keep(FIRST_TRACE, needs, lambda: quick_outline(*read(), token))
    else:
        outline = keep(Stage.TRACE, needs, lambda: trace(*read(), token))
    return Outlined(picture, square, touch, colours, outline, is_first)


def _read(job: Job, source: Source) -> Picture:
    return read_picture(source.data, source.name, every_pixel=job.picture.pixels == "all")


def _of_lines(keeper: Keeper, job: Job, source: Source) -> Outlined:
    """The same of artwork; what squares up and touches up pixels does nothing to it, and says so."""
    keep = keeper.stage
    drawn = keep(Stage.READ, (source.digest, source.name), lambda: read_artwork(source.data, source.name))
    scheme = keep(Stage.COLOURS, (drawn,), lambda: scheme_of(drawn, colour_wish(job)))
    fine = fine_height(job, drawn.unit_mm)
    artwork = keep(Stage.TRACE, (drawn, scheme, fine), lambda: artwork_of(drawn, scheme, fine or None))
    made = (artwork, source.name, source.digest)
    painting = keep(PAINT, made, lambda: painting_of(*made))
    picture, is_squared = painting.picture, square_wish(job) != SquareWish()
    square = keep(Stage.SQUARE, (painting,), lambda: squared_artwork(picture, artwork, is_asked=is_squared))
    touch = keep(Stage.TOUCH, (square,), lambda: touched_artwork(picture, is_asked=bool(job.picture.touches)))
    return Outlined(picture, square, touch, painting.colours, artwork.outline, artwork=artwork)


def fine_height(job: Job, unit_mm: float | None) -> float:
    """mm: the height at which curves are fitted within their tolerance; 0 for the size that the file states.

    The next power of 2 above the height asked for: most new heights then scale what is there.
    """
    height = job.shape.height
    if height is AUTO and unit_mm is not None:
        return 0.0
    return 2.0 ** ceil(log2(height.value if isinstance(height, Measure) else ASSUMED_HEIGHT))
