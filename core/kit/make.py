"""From a Job to a whole cut kit, proven; and the proof of a kit or a program that is there already.

The programs and drawings are written first and read back; only then is it known whether there is a stop,
and the papers say so. A stop leaves the router's programs out, never anything else.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from time import perf_counter
from typing import Any

from core.build import Build, build
from core.cancel import CancelToken
from core.decal.film import FilmSource
from core.decal.sheet_box import SheetBox
from core.drawing.drawing import Drawing
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.hpgl import is_in_range, write_hpgl
from core.drawing.write.svg import write_svg
from core.findings import Finding, has_stop, worst_first
from core.job.choice import AUTO
from core.job.job import Job, Source
from core.job.resolve import cutter_correction, knife_of
from core.job.saved import PictureEntry, write_job
from core.kit.check import check_files
from core.kit.corrected import corrected_drawing
from core.kit.drawings import film_drawing, kit_sheet_box, mirrored, part_drawing
from core.kit.inspect import inspect_bytes
from core.kit.kit import FileRole, Kit, KitFile, KitNames, plain_name
from core.kit.papers import job_sheet_file, no_program_file, picture_file
from core.kit.plots import film_plot, plot_frame, range_finding
from core.kit.programs import ProgramSet, write_programs
from core.kit.report import Json, report_of, with_proof
from core.kit.report_bytes import report_bytes
from core.kit.says import SAYS, report_digest
from core.kit.true_size import paper_proof_file
from core.proof.claims import REPORT_NAME, claims_of
from core.proof.prove import prove

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Checked:
    """What reading back found."""

    report: Mapping[str, Any]
    findings: tuple[Finding, ...]


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


def make_kit(job: Job, source: Source, token: CancelToken, progress: Progress) -> Kit:
    """The kit of a Job, every file in memory. Raises errors of core/errors.py."""
    begun = perf_counter()
    made = build(job, source, None, token, progress)
    return kit_of(made, token, progress, begun)


def make_kits(jobs: Iterable[Job], source: Source, token: CancelToken, progress: Progress) -> Iterator[Kit]:
    """The kits of several Jobs of one picture, each made from the Build before it."""
    made: Build | None = None
    for job in jobs:
        begun = perf_counter()
        made = build(job, source, made, token, progress)
        yield kit_of(made, token, progress, begun)


def kit_of(made: Build, token: CancelToken, progress: Progress, begun: float) -> Kit:
    """The kit of a Build; begun is the time from which its seconds count."""
    clock = _Clock(begun)
    names = KitNames(job_name(made.job, made.source), made.shape.size_mm[1])
    progress("program")
    written = written_of(made, names)
    clock.lap("write")
    token.check()
    progress("proof")
    claims = claims_of(report_of(made, written.programs, written.box, written.files()))
    readback = prove(_bytes(written.files()), claims)
    clock.lap("readback")
    findings = worst_first((*made.findings, *written.findings, *readback.findings))
    if has_stop(findings):
        written = replace(written, programs=None)
    token.check()
    progress("papers")
    files = _all_files(made, written, findings)
    report = with_proof(report_of(made, written.programs, written.box, files), made, readback, findings)
    clock.lap("write")
    report[SAYS] = report_digest(report)
    report["seconds"] = clock.seconds(made)
    return Kit({**_bytes(files), REPORT_NAME: report_bytes(report)}, report, findings)


def written_of(made: Build, names: KitNames) -> Written:
    """Programs and drawings of a Build, not yet proven; no programs where a stop is known already."""
    cannot = has_stop(made.findings) or made.found.is_awaited
    programs = None if cannot else write_programs(made, names)
    box = kit_sheet_box(made.films.films, made.drawn, made.layout)
    drawings = _drawing_files(made, names, box)
    return Written(names, programs, drawings.files, box, drawings.findings)


def job_name(job: Job, source: Source) -> str:
    """What the job is called: as asked, else as its picture."""
    return source.stem if job.files.name is AUTO else str(job.files.name)


class _Clock:
    """Seconds by what they were spent on."""

    def __init__(self, begun: float) -> None:
        self.begun, self.last = begun, perf_counter()
        self.spent: dict[str, float] = {}

    def lap(self, name: str) -> None:
        now = perf_counter()
        self.spent[name] = self.spent.get(name, 0.0) + now - self.last
        self.last = now

    def seconds(self, made: Build) -> Json:
        """The report's seconds: stages of the Build by what the report calls them."""
        took = {name: kept.seconds for name, kept in made.kept.items()}
        stages = {
            "read": took["read"] + took["colours"] + _of(took, "second-read", "second-colours"),
            "trace": took["trace"] + _of(took, "second-trace"),
            "fit": took["shape"] + _of(took, "match", "second-patches"),
            "part": took["reach"] + took["sheet"] + took["path"],
            "films": took["films"],
        }
        every = stages | self.spent | {"all": perf_counter() - self.begun}
        return {name: round(value, 4) for name, value in every.items()}


def _of(took: Mapping[str, float], *stages: str) -> float:
    """Seconds of stages that only some Jobs have."""
    return sum(took.get(stage, 0.0) for stage in stages)


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


def _all_files(made: Build, written: Written, findings: tuple[Finding, ...]) -> tuple[KitFile, ...]:
    names = written.names
    picture = _source_file(names, "source", made.source, made.picture.format)
    face = (
        made.source.face
        and made.laid
        and _source_file(names, "face", made.source.face, made.laid.seen.picture.format)
    )
    job = write_job(made.job, _entry(picture), face=_entry(face) if face else None).encode()
    refused = (no_program_file(names, findings),) if has_stop(findings) else ()
    return (
        *written.files(),
        *refused,
        job_sheet_file(made, names, written.programs, written.drawings, written.box, findings),
        paper_proof_file(made, names, written.box),
        picture_file(made, names),
        KitFile(FileRole.JOB, "toml", names.named("", "samecut"), job),
        picture,
        *((face,) if face else ()),
    )


def _source_file(names: KitNames, what: str, source: Source, kind: str) -> KitFile:
    """A picture that the Job came from, under a name of the kit's own."""
    ending = source.name.rpartition(".")[2].lower() if "." in source.name else kind.lower()
    return KitFile(FileRole.SOURCE, kind.lower(), names.named(what, plain_name(ending)), source.data)


def _entry(picture: KitFile) -> PictureEntry:
    return PictureEntry(picture.path, sha256(picture.data).hexdigest())


def _bytes(files: tuple[KitFile, ...]) -> dict[str, bytes]:
    return {file.path: file.data for file in files}


def check_kit(files: Mapping[str, bytes]) -> Checked:
    """Prove a kit's files again. Raises UnreadableFile when there is no report that can be read."""
    report, findings = check_files(files)
    return Checked(report, findings)


def inspect_program(data: bytes, name: str) -> Checked:
    """Read any RS-274 program. Raises UnreadableFile with line and reason."""
    report, findings = inspect_bytes(data, name)
    return Checked(report, findings)
