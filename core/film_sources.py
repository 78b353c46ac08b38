"""What of a picture becomes film: each colour, the whole face, or the dark lines alone."""

from enum import StrEnum

from core.decal.laying import luminance
from core.outline.region import Regions
from core.patches.colour_names import hex_of
from core.patches.patches import FilmName
from core.patches.shape import Shape
from core.second.second import Second

#: Relative luminance up to which a colour is dark: that of a grey half as light as white to the eye
#: (CIE 15: L* 50 is Y 0.184).
DARK = 0.184
#: What the film of the whole face is called, and its colour where the picture has no film at all.
FACE_NAME, FACE_COLOUR = "face", (0.5, 0.5, 0.5)


class MadeOf(StrEnum):
    """What films are made of."""

    COLOURS = "colours"
    FACE = "whole face"
    LINES = "dark lines"


def films_from(giver: Shape | Second, part: Regions, what: MadeOf) -> tuple[FilmName, ...]:
    """The films that a picture gives, on a part."""
    films = giver.patches.films
    if what is MadeOf.FACE:
        return (FilmName(FACE_NAME, _largest_colour(giver)),) if part else ()
    if what is MadeOf.LINES and films:
        lights = {film.name: luminance(hex_of(film.colour)) for film in films}
        darkest = max(DARK, min(lights.values()))
        return tuple(film for film in films if lights[film.name] <= darkest)
    return films


def patch_of(giver: Shape | Second, part: Regions, what: MadeOf, name: str) -> Regions:
    """The Regions that one of these films comes from, in the shape's coordinates, not yet cut."""
    return part if what is MadeOf.FACE else giver.film_patch(name)


def _largest_colour(giver: Shape | Second) -> tuple[float, float, float]:
    """That of the film with most area."""
    areas = {
        film.colour: sum(region.area() for region in giver.film_patch(film.name))
        for film in giver.patches.films
    }
    return max(areas, key=lambda colour: areas[colour], default=FACE_COLOUR)
