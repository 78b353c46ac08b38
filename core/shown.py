"""What a window shows of a Build: everything but the pixels, light enough to be sent between processes."""

from dataclasses import dataclass

import numpy as np

from core.build import Build, Look
from core.decal.films import Films
from core.decal.sheet_box import SheetBox
from core.decal.weed_lines import WeedLine
from core.findings import Finding, Point, worst_first
from core.job.job import Job
from core.job.resolve import PicturePlace, weed_heights_of
from core.kit.drawing_files import sheet_box_findings
from core.kit.drawings import kit_sheet_box, waste_lines
from core.kit.programs import setup_of
from core.outline.outline import Outline
from core.outline.region import Regions
from core.patches.colour_names import hex_of
from core.patches.patches import Patches
from core.router.freed import Freed, freed
from core.router.plan import RouterPlan
from core.router.played import Played, played
from core.router.setup import Setup
from core.sheet.layout import Layout


@dataclass(frozen=True, eq=False)
class Shown:
    """outline, part, as_cut, films and path in the frame, mm; place turns picture px into it and back.

    picture_size is (width, height) px of the upright source, squared_size of the squared one; palette
    "#rrggbb" by colour index; px_mm is the side of a pixel; films come from film_outline and film_patches,
    the second picture's where there is one; run is the path of the bit by the clock, freed what comes free
    on it; hanger: the middle of the hole that the first copy hangs by, in the frame; off_mm: how far
    off films are to be expected; weed_heights: how high weed lines lie, weed_lines: where any film has them.
    A first look has no findings: they are told of what is exact.
    """

    job: Job
    picture_name: str
    picture_size: tuple[int, int]
    squared_size: tuple[int, int]
    palette: tuple[str, ...]
    ground: int
    outline: Outline
    patches: Patches
    film_outline: Outline
    film_patches: Patches
    size_mm: tuple[float, float]
    px_mm: float
    part: Regions
    as_cut: Regions
    layout: Layout
    films: Films
    sheet_box: SheetBox
    path: RouterPlan
    setup: Setup
    place: PicturePlace
    findings: tuple[Finding, ...]
    run: Played
    freed: tuple[Freed, ...]
    is_first_look: bool = False
    hanger: Point | None = None
    off_mm: float | None = None
    weed_heights: tuple[float, ...] = ()
    weed_lines: tuple[WeedLine, ...] = ()

    @property
    def seconds(self) -> float:
        """Motion time of the part program."""
        return self.run.total()


def shown_of(made: Build) -> Shown:
    """What a window shows of this Build."""
    is_first_look = made.look is Look.FIRST
    outline = made.shape.outline.mapped(1.0, made.layout.shape_at)
    second = made.laid.second if made.laid else None
    setup = setup_of(made)
    box = kit_sheet_box(made.films.films, made.drawn, made.layout)
    heights = weed_heights_of(made.job, box)
    run = played(made.path.toolpath, setup)
    return Shown(
        job=made.job,
        picture_name=made.source.name,
        picture_size=made.picture.source_size,
        squared_size=(made.squared.picture.width, made.squared.picture.height),
        palette=tuple(hex_of((float(r), float(g), float(b))) for r, g, b in np.asarray(made.colours.palette)),
        ground=made.colours.ground,
        outline=outline,
        patches=made.shape.patches,
        film_outline=second.outline.mapped(1.0, made.layout.shape_at) if second else outline,
        film_patches=second.patches if second else made.shape.patches,
        size_mm=made.shape.size_mm,
        px_mm=made.shape.scale,
        part=made.part,
        as_cut=made.as_cut,
        layout=made.layout,
        films=made.films,
        sheet_box=box,
        path=made.path,
        setup=setup,
        place=made.place,
        findings=() if is_first_look else worst_first((*made.findings, *sheet_box_findings(made, box))),
        run=run,
        freed=freed(made.path.toolpath, made.path.within, run, setup),
        is_first_look=is_first_look,
        weed_heights=heights,
        weed_lines=_weed_lines(made, box, heights),
        hanger=_in_frame(made.shape.hanger, made.layout.shape_at),
        off_mm=made.off_mm,
    )


def _in_frame(at: Point | None, shape_at: Point) -> Point | None:
    return None if at is None else (at[0] + shape_at[0], at[1] + shape_at[1])


def _weed_lines(made: Build, box: SheetBox, heights: tuple[float, ...]) -> tuple[WeedLine, ...]:
    """Those of all films, each once."""
    lines = (line for film in made.films.films for line in waste_lines(film, made.layout, box, heights))
    return tuple(dict.fromkeys((line.start, line.end) for line in lines))
