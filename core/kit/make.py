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
from core.findings import Finding, has_stop, worst_first
from core.job.choice import AUTO
from core.job.job import Job, Source
from core.job.saved import PictureEntry, write_job
from core.kit.also import NOTHING, Also
from core.kit.check import check_files
from core.kit.corrected import box_to_read
from core.kit.gauge import gauge_files
from core.kit.inspect import inspect_bytes
from core.kit.kit import FileRole, Kit, KitFile, KitNames, plain_name
from core.kit.known import known_of, reported_limits
from core.kit.papers import job_sheet_file, no_program_file, stages_of
from core.kit.pictures import picture_files
from core.kit.report import Json, report_of, rounded, with_proof
from core.kit.report_bytes import report_bytes
from core.kit.says import SAYS, report_digest
from core.kit.since import reported_since
from core.kit.true_size import paper_proof_file
from core.kit.work_order import reported_order
from core.kit.written import Written, written_of
from core.proof.prove import prove
from core.proof.read_claims import claims_of
from core.proof.report_fields import REPORT_NAME

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Checked:
    """What reading back found."""

    report: Mapping[str, Any]
    findings: tuple[Finding, ...]


def make_kit(job: Job, source: Source, token: CancelToken, progress: Progress, also: Also = NOTHING) -> Kit:
    """The kit of a Job, every file in memory. Raises errors of core/errors.py."""
    begun = perf_counter()
    made = build(job, source, None, token, progress)
    return kit_of(made, token, progress, begun, also)


def make_kits(jobs: Iterable[Job], source: Source, token: CancelToken, progress: Progress) -> Iterator[Kit]:
    """The kits of several Jobs of one picture, each made from the Build before it."""
    made: Build | None = None
    for job in jobs:
        begun = perf_counter()
        made = build(job, source, made, token, progress)
        yield kit_of(made, token, progress, begun)


def kit_of(made: Build, token: CancelToken, progress: Progress, begun: float, also: Also = NOTHING) -> Kit:
    """The kit of a Build; begun is the time from which its seconds count."""
    clock = _Clock(begun)
    names = KitNames(job_name(made.job, made.source), made.shape.size_mm[1])
    progress("program")
    written = written_of(made, names)
    clock.lap("write")
    token.check()
    progress("proof")
    claimed = report_of(made, written.programs, written.box, written.files())
    claims = claims_of(claimed)
    readback = prove(_bytes(written.files()), claims)
    clock.lap("readback")
    findings = worst_first((*made.findings, *written.findings, *readback.findings))
    if has_stop(findings) and written.programs is not None:
        written = replace(written, programs=None)
        claimed = report_of(made, None, written.box, ())
    token.check()
    progress("papers")
    known = known_of(made, also, claimed | {"files": [_picture_of(made, names).listed()]}, token)
    papers = (
        job_sheet_file(made, written, findings, known),
        paper_proof_file(made, names, written.box),
        *picture_files(made, written, claims),
    )
    files = _all_files(made, written, findings, papers)
    report = with_proof(claimed | {"files": [file.listed() for file in files]}, made, readback, findings)
    report |= rounded({"since": reported_since(known.since), "limits": reported_limits(known)})
    stages = stages_of(made, written.programs, written.box)
    report["order"] = reported_order(stages, box_to_read(made.job, written.box))
    clock.lap("write")
    report[SAYS] = report_digest(report)
    report["seconds"] = clock.seconds(made)
    return Kit({**_bytes(files), REPORT_NAME: report_bytes(report)}, report, findings)


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


def _picture_of(made: Build, names: KitNames) -> KitFile:
    """The picture that the Job came from."""
    return _source_file(names, "source", made.source, made.picture.format)


def _all_files(
    made: Build, written: Written, findings: tuple[Finding, ...], papers: tuple[KitFile, ...]
) -> tuple[KitFile, ...]:
    names = written.names
    picture = _picture_of(made, names)
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
        *papers,
        *gauge_files(made, names),
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
