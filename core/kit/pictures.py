"""The pictures of a kit for screen and print: the finished thing from both sides, the sheet after the cut."""

from collections.abc import Iterator
from dataclasses import replace

from core.build import Build
from core.decal.fit_band import FitBand, fit_band
from core.job.resolve import inset_of
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.written import Written
from core.paper.screen import for_screen, png_at
from core.paper.sheet_view import SheetLook, sheet_pixels
from core.paper.view import (
    BACK_PX,
    MOST_PX,
    PER_MM,
    FilmLook,
    Look,
    from_behind,
    picture,
    print_px,
)
from core.proof.claims import Claims
from core.proof.heights import height_field
from core.proof.programs import in_place, read_named


def look_of(made: Build) -> Look:
    """The finished thing as it will look."""
    films = tuple(FilmLook(film.name, film.colour, film.regions) for film in made.films.films)
    is_behind = made.job.film.side == "behind"
    return Look(made.part, made.as_cut, films, made.layout.stock.is_clear, is_behind=is_behind)


def band_of(made: Build) -> FitBand | None:
    """Where edges of film may come to lie, laid as badly as is to be expected; None where none is known."""
    if not made.off_mm:
        return None
    films = [film.regions for film in made.films.films]
    return fit_band(films, made.as_cut, inset_of(made.job), made.off_mm)


def with_band(look: Look, band: FitBand | None) -> Look:
    """The same with the fit band on it."""
    return look if band is None else replace(look, band=(band.on_part, band.over_edge))


def picture_files(made: Build, written: Written, claims: Claims) -> tuple[KitFile, ...]:
    """Front and back, how well films may fit, and the sheet where there is a program to cut it.

    Front and sheet for print too.
    """
    look, names = look_of(made), written.names
    printed = picture(look, print_px(look))
    return (
        _file(names, "front", "picture", for_screen(printed)),
        _file(names, "front", "picture-print", printed),
        _file(names, "back", "picture-back", picture(from_behind(look), BACK_PX)),
        *_as_it_may_fit(made, names, look),
        *_after_the_cut(written, claims, look),
    )


def _as_it_may_fit(made: Build, names: KitNames, look: Look) -> Iterator[KitFile]:
    band = band_of(made)
    if band is not None:
        yield _file(names, "fit", "picture-fit", picture(with_band(look, band)))


def _file(names: KitNames, view: str, what: str, data: bytes) -> KitFile:
    return KitFile(FileRole.PICTURE, "png", names.named(what, "png"), data, view=view)


def _after_the_cut(written: Written, claims: Claims, look: Look) -> Iterator[KitFile]:
    """What the program's own bytes leave, as it lies on the machine's bed."""
    path = next((file.path for file in written.files() if file.role is FileRole.PART_PROGRAM), None)
    if path is None or claims.program is None:
        return
    program = in_place(read_named({file.path: file.data for file in written.files()}, path), claims)
    (x, y), stock, top = claims.zero_at, claims.stock, claims.top_z_mm
    px_mm = max(1.0 / PER_MM, max(stock.width_mm, stock.depth_mm) / MOST_PX)
    box = (-x, -y, stock.width_mm - x, stock.depth_mm - y)
    heights = height_field(program, claims.program.bit_mm, box, top, px_mm)
    bottom = top - stock.thickness_mm
    pixels = sheet_pixels(
        SheetLook(heights.z, heights.px_mm, top, bottom, claims.program.bottom_z_mm, is_clear=look.is_clear)
    )
    printed = png_at(pixels, heights.px_mm)
    yield _file(written.names, "sheet", "sheet", for_screen(printed))
    yield _file(written.names, "sheet", "sheet-print", printed)
