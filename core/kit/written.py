"""What is written of a kit before its proof: programs, drawings and plots."""

from dataclasses import dataclass, replace

from core.build import Build
from core.decal.film import FilmSource
from core.decal.sheet_box import SheetBox
from core.drawing.drawing import Drawing
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.hpgl import is_in_range, write_hpgl
from core.drawing.write.svg import write_svg
from core.findings import Finding, has_stop
from core.job.resolve import cutter_correction, knife_of
from core.kit.corrected import corrected_drawing
from core.kit.drawings import film_drawing, kit_sheet_box, mirrored, part_drawing
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.plots import film_plot, plot_frame, range_finding
from core.kit.programs import ProgramSet, write_programs


@dataclass(frozen=True)
class FilesAndFindings:
    """Drawings and plots, and what of them could not be written."""

    files: tuple[KitFile, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Written:
    """What is written before the proof: programs, drawings and plots, and the box that all films share.

    findings tell what could not be written.
    """

    names: KitNames
    programs: ProgramSet | None
    drawings: tuple[KitFile, ...]
    box: SheetBox
    findings: tuple[Finding, ...] = ()

    def files(self) -> tuple[KitFile, ...]:
        """All of them, programs first."""
        return (*(self.programs.files if self.programs else ()), *self.drawings)


def written_of(made: Build, names: KitNames) -> Written:
    """Programs and drawings of a Build, not yet proven; no programs where a stop is known already."""
    cannot = has_stop(made.findings) or made.found.is_awaited
    programs = None if cannot else write_programs(made, names)
    box = kit_sheet_box(made.films.films, made.drawn, made.layout)
    drawings = _drawing_files(made, names, box)
    return Written(names, programs, drawings.files, box, drawings.findings)


def _drawing_files(made: Build, names: KitNames, box: SheetBox) -> FilesAndFindings:
    sources = tuple(
        FilmSource(film.name, film.colour, made.film_patch(film.name)) for film in made.films.films
    )
    base = names.base()
    part = part_drawing(f"{base}: part", made.part, made.as_cut, sources, made.layout, made.drawn)
    files = [
        KitFile(FileRole.PART_DRAWING, "svg", names.named("part", "svg"), write_svg(part)),
        KitFile(FileRole.PART_DRAWING, "dxf", names.named("part", "dxf"), write_dxf(part)),
    ]
    findings: list[Finding] = []
    frame = plot_frame(made, box)
    for film in made.films.films:
        drawing = _as_laid(
            film_drawing(f"{base}: film {film.name}", film, made.drawn, made.layout, box), made
        )
        files += _film_files(film.name, corrected_drawing(drawing, cutter_correction(made.job)), names)
        if made.job.knife.plot:
            plot = film_plot(drawing, knife_of(made.job), frame)
            if is_in_range(plot):
                path = names.named(f"film-{film.name}", "plt")
                files.append(KitFile(FileRole.FILM_PLOT, "hpgl", path, write_hpgl(plot), film.name))
            else:
                findings.append(range_finding(film.name))
    return FilesAndFindings(tuple(files), tuple(findings))


def _as_laid(drawing: Drawing, made: Build) -> Drawing:
    """Mirrored for the back, once, at the very end; the drawing says so in its title."""
    if made.job.film.side != "behind":
        return drawing
    turned = mirrored(drawing, made.layout.mirror_x)
    return replace(turned, title=f"{drawing.title}, mirrored for the back about x = {made.layout.mirror_x:g}")


def _film_files(film: str, drawing: Drawing, names: KitNames) -> list[KitFile]:
    what = f"film-{film}"
    written = (
        ("svg", names.named(what, "svg"), write_svg(drawing)),
        ("dxf", names.named(what, "dxf"), write_dxf(drawing)),
        ("dxf-r12", names.named(f"{what}-r12", "dxf"), write_dxf_r12(drawing)),
    )
    return [KitFile(FileRole.FILM_DRAWING, kind, path, data, film) for kind, path, data in written]
