"""The kit of a gauge: a Job like any other, whose picture is the gauge's drawing, with a page of its own."""

from dataclasses import replace

from core.build import Build
from core.gauge.artwork import COLOUR, FILM, GROUND, NAME, gauge_artwork
from core.gauge.letters import letters_at
from core.gauge.on_sheet import is_plate
from core.gauge.plate import PLATE, measured, steps
from core.job.job import Job, Source
from core.job.tables import Table, row_of
from core.kit.corrected import corrected_briefly
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.true_size import paper_of
from core.outline.region import mapped
from core.paper.gauge_page import Distance, StairStep, gauge_pdf

#: What the gauge needs: its true height, every opening cut, film up to the very edge.
CHOICES = {
    "shape.height": f"{PLATE[1]:g} mm",
    "shape.colours": f"{COLOUR} film {FILM}; {GROUND} through",
    "film.inset": "0 mm",
    "stock.copies": "1",
}


def on_machines_of(job: Job) -> Job:
    """Nothing but this Job's machines, bit and sheet, and how its zero is touched."""
    own = {group: getattr(job, group) for group in ("bit", "cutting", "machine", "knife", "said")}
    alike = replace(Job(), **own)
    for key in ("stock.z_zero", "stock.touch"):
        alike = alike.with_value(key, job.value(key))
    return row_of(job, Table.SHEET, "").taken(alike)


def gauge_job(job: Job) -> tuple[Job, Source]:
    """The Job of a gauge on the machine, sheet and bit of this one, and its picture."""
    for key, text in CHOICES.items():
        job = job.with_choice(key, text)
    return job, Source(NAME, gauge_artwork())


def gauge_files(made: Build, names: KitNames) -> tuple[KitFile, ...]:
    """The page that says what to measure, where this is a gauge."""
    if not is_plate(made.source.data, made.shape.size_mm):
        return ()
    plate = mapped(made.shape.part, lambda loop: loop.moved(-PLATE[0] / 2.0, -PLATE[1] / 2.0))
    distances = tuple(
        Distance(one.letter, one.words, one.feature.meant_mm, one.start, one.end) for one in measured()
    )
    cut = {step.depth_mm for step in made.path.stair}
    in_stock = [step for step in steps() if step.depth_mm in cut]
    stair = tuple(StairStep(one.letter, one.depth_mm, one.at) for one in in_stock)
    letters = tuple((" ".join(told), place) for told, place in letters_at(measured(), in_stock))
    title = f"{names.base()}{_cut_with(made.job)}"
    data = gauge_pdf(title, plate, distances, stair, letters, paper_of(made.job))
    return (KitFile(FileRole.GAUGE_PAGE, "pdf", names.named("gauge", "pdf"), data),)


def _cut_with(job: Job) -> str:
    words = corrected_briefly(job)
    return f". {words}" if words else ""
