"""A kit that is there already: its digests, and the proof of what its files say."""

from collections.abc import Mapping
from hashlib import sha256
from pathlib import PurePosixPath

from core.errors import UnreadableFile
from core.findings import Finding, Level, has_stop, worst_first
from core.kit.report import Json, finding_entry, proof_entry
from core.proof.claims import REPORT_NAME, Claims, FileClaim, read_report
from core.proof.prove import prove
from core.proof.readback import Readback, breach


def check_files(files: Mapping[str, bytes]) -> tuple[Json, tuple[Finding, ...]]:
    """The proof of a kit's files by name, and all findings. Raises UnreadableFile without a report."""
    if REPORT_NAME not in files:
        raise UnreadableFile(f"There is no {REPORT_NAME} here, so this is no cut kit.")
    claims = read_report(files[REPORT_NAME])
    readback = prove(files, claims)
    findings = worst_first(
        (
            *readback.findings,
            *_lost(files, claims),
            *_changed(files, claims, readback),
            *_strange(files, claims),
        )
    )
    entries = {"findings": [finding_entry(finding) for finding in findings]}
    return {"report": 1, "readback": proof_entry(readback)} | entries, findings


def _lost(files: Mapping[str, bytes], claims: Claims) -> tuple[Finding, ...]:
    """Listed files that are not there, beyond those that the proof itself has missed."""
    proven = {file.path for role in PROVEN for file in claims.files_of(role)}
    return tuple(
        breach("file-missing", f"{file.path} is missing.")
        for file in claims.files
        if file.path not in files and file.path not in proven
    )


#: Roles whose bytes the proof reads; of the others only the digest speaks.
PROVEN = ("part-program", "clearance-lap", "air-cut", "part-drawing", "film-drawing")


def _changed(files: Mapping[str, bytes], claims: Claims, readback: Readback) -> tuple[Finding, ...]:
    """A caution for every file whose digest does not hold; what it says is judged by the proof."""
    return tuple(
        _changed_finding(file, readback)
        for file in claims.files
        if file.path in files and sha256(files[file.path]).hexdigest() != file.sha256
    )


def _changed_finding(file: FileClaim, readback: Readback) -> Finding:
    if file.role in PROVEN and not has_stop(readback.findings):
        text = f"{file.path} was changed since the kit was made; what it says is still proven."
    else:
        text = f"{file.path} was changed since the kit was made."
    return Finding(Level.CAUTION, "file-changed", text, "Make the kit again, unless you know why.")


def _strange(files: Mapping[str, bytes], claims: Claims) -> tuple[Finding, ...]:
    listed = {file.path for file in claims.files} | {REPORT_NAME}
    return tuple(
        Finding(
            Level.CAUTION,
            "file-unlisted",
            f"{PurePosixPath(name)} is not of this kit.",
            "Do not cut it with this kit: move it elsewhere.",
        )
        for name in sorted(files)
        if name not in listed
    )
