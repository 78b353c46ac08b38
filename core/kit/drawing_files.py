"""The files of drawings and plots: the part's, then each film's in every format."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.build import Build
from core.decal.film import Film, FilmSource
from core.decal.film_piece import film_findings
from core.decal.sheet_box import SheetBox
from core.decal.weed_lines import weed_line_findings
from core.drawing.drawing import Drawing
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.hpgl import is_in_range, write_hpgl
from core.drawing.write.svg import write_svg
from core.findings import Finding
from core.job.resolve import cutter_correction, film_stock_of, knife_of, svg_unit_of, weed_heights_of
from core.kit.corrected import corrected_drawing
from core.kit.drawings import MoreLines, film_drawing, mirrored, part_drawing, waste_lines, witness_lines
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.plots import film_plot, plot_frame, range_finding
from core.kit.widened import widened_drawing


@dataclass(frozen=True)
class DrawingFiles:
    """Drawings and plots; findings tell what could not be written, and film that is too small for them."""

    files: tuple[KitFile, ...]
    findings: tuple[Finding, ...]


def drawing_files(made: Build, names: KitNames, box: SheetBox) -> DrawingFiles:
    """The part drawing, and of each film its drawings and, where asked, its plot."""
    files = list(_part_files(made, names))
    findings: list[Finding] = [*sheet_box_findings(made, box)]
    for film in made.films.films:
        drawn = _as_laid(_drawn(film, made, names, box), made)
        drawing = widened_drawing(drawn, cutter_correction(made.job).width_mm)
        files += _film_files(film.name, drawing, made, names)
        if made.job.knife.plot:
            plot = film_plot(drawing, knife_of(made.job), plot_frame(made, box))
            if is_in_range(plot):
                path = names.named(f"film-{film.name}", "plt")
                files.append(KitFile(FileRole.FILM_PLOT, "hpgl", path, write_hpgl(plot), film.name))
            else:
                findings.append(range_finding(film.name))
    return DrawingFiles(tuple(files), tuple(findings))


def sheet_box_findings(made: Build, box: SheetBox) -> tuple[Finding, ...]:
    """What is said of film too small for the sheet box, at its corner, and of weed lines by hand."""
    if not made.films.films:
        return ()
    x_min, y_min, _, _ = box.loop.bounds()
    is_placed = isinstance(made.job.film.weed_lines, tuple)
    lines = weed_line_findings(weed_heights_of(made.job, box), box.loop) if is_placed else ()
    return (*film_findings(film_stock_of(made.job), box.size_mm, (x_min, y_min)), *lines)


def _part_files(made: Build, names: KitNames) -> Iterator[KitFile]:
    sources = tuple(
        FilmSource(film.name, film.colour, made.film_patch(film.name)) for film in made.films.films
    )
    title = f"{names.base()}: part"
    part = part_drawing(title, made.part, made.as_cut, sources, made.layout, made.drawn)
    yield KitFile(FileRole.PART_DRAWING, "svg", names.named("part", "svg"), write_svg(part))
    yield KitFile(FileRole.PART_DRAWING, "dxf", names.named("part", "dxf"), write_dxf(part))


def _drawn(film: Film, made: Build, names: KitNames, box: SheetBox) -> Drawing:
    more = MoreLines(
        weeding=waste_lines(film, made.layout, box, weed_heights_of(made.job, box)),
        notes=witness_lines(made.drawn, box) if made.job.knife.witness else (),
    )
    return film_drawing(f"{names.base()}: film {film.name}", film, made.drawn, made.layout, box, more)


def _as_laid(drawing: Drawing, made: Build) -> Drawing:
    """Mirrored for the back, once, at the very end; the drawing says so in its title."""
    if made.job.film.side != "behind":
        return drawing
    turned = mirrored(drawing, made.layout.mirror_x)
    return replace(turned, title=f"{drawing.title}, mirrored for the back about x = {made.layout.mirror_x:g}")


def _film_files(film: str, drawing: Drawing, made: Build, names: KitNames) -> Iterator[KitFile]:
    what, corrected = f"film-{film}", corrected_drawing(drawing, cutter_correction(made.job))
    written = (
        ("svg", names.named(what, "svg"), write_svg(corrected, svg_unit_of(made.job))),
        ("dxf", names.named(what, "dxf"), write_dxf(corrected)),
        ("dxf-r12", names.named(f"{what}-r12", "dxf"), write_dxf_r12(corrected)),
    )
    for kind, path, data in written:
        yield KitFile(FileRole.FILM_DRAWING, kind, path, data, film)
