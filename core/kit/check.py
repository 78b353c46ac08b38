"""A kit that is there already: its digests, and the proof of what its files say."""

from collections.abc import Mapping
from hashlib import sha256
from typing import Any

from core.errors import UnreadableFile
from core.findings import Finding, Level, has_stop, worst_first
from core.kit.kit import EXACT, PROVEN
from core.kit.other_kit import other_kit_findings
from core.kit.report import Json, finding_entry, proof_entry
from core.kit.says import SAYS, report_digest, says_digest
from core.proof.claims import Claims, FileClaim
from core.proof.prove import prove
from core.proof.read_claims import claims_of
from core.proof.readback import Readback, breach
from core.proof.report_fields import REPORT_NAME, report_values


def check_files(files: Mapping[str, bytes]) -> tuple[Json, tuple[Finding, ...]]:
    """The proof of a kit's files by name, and all findings. Raises UnreadableFile without a report."""
    if REPORT_NAME not in files:
        raise UnreadableFile(f"There is no {REPORT_NAME} here, so this is no cut kit.")
    report = report_values(files[REPORT_NAME])
    claims = claims_of(report)
    readback = prove(files, claims)
    digests = {name: sha256(data).hexdigest() for name, data in files.items()}
    findings = worst_first(
        (
            *readback.findings,
            *_report_changed(report),
            *other_kit_findings(files, report, claims),
            *_lost(digests, claims),
            *_changed(files, digests, claims, readback),
            *_strange(digests, claims),
        )
    )
    entries = {"findings": [finding_entry(finding) for finding in findings]}
    return {"report": 1, "readback": proof_entry(readback)} | entries, findings


def _report_changed(report: Mapping[str, Any]) -> tuple[Finding, ...]:
    """A stop when the report no longer says what it said: not every number in it is proven by a file."""
    if report.get(SAYS) == report_digest(report):
        return ()
    return (breach("report-changed", f"{REPORT_NAME} says something else than when the kit was made."),)


def _lost(digests: Mapping[str, str], claims: Claims) -> tuple[Finding, ...]:
    """Listed files that are not there, beyond those that the proof itself has missed."""
    proven = {file.path for role in PROVEN for file in claims.files_of(role)}
    return tuple(
        breach("file-missing", f"{file.path} is missing.")
        for file in claims.files
        if file.path not in digests and file.path not in proven
    )


def _changed(
    files: Mapping[str, bytes], digests: Mapping[str, str], claims: Claims, readback: Readback
) -> tuple[Finding, ...]:
    """What is to be said of every file whose digest does not hold."""
    is_proven = not has_stop(readback.findings)
    homes: dict[str, list[str]] = {}
    for file in claims.files:
        homes.setdefault(file.sha256, []).append(file.path)  # two may be alike to the byte
    return tuple(
        _changed_finding(
            file, files[file.path], " or ".join(homes.get(digests[file.path], ())), is_proven=is_proven
        )
        for file in claims.files
        if file.path in files and digests[file.path] != file.sha256
    )


def _changed_finding(file: FileClaim, data: bytes, home: str, *, is_proven: bool) -> Finding:
    """A stop where another file lies in its place or it says something else, else a caution."""
    if home:
        return breach("file-exchanged", f"{file.path} holds what {home} should hold.")
    if file.role not in PROVEN - EXACT and says_digest(data, file.format) != file.says:
        return breach("file-differs", f"{file.path} says something else than when the kit was made.")
    still = "; what it says is still proven" if is_proven and file.role in PROVEN else ""
    text = f"{file.path} was changed since the kit was made{still}."
    return Finding(Level.CAUTION, "file-changed", text, "Make the kit again, unless you know why.")


def _strange(digests: Mapping[str, str], claims: Claims) -> tuple[Finding, ...]:
    listed = {file.path: file.sha256 for file in claims.files} | {REPORT_NAME: ""}
    lost = {digest: path for path, digest in listed.items() if path not in digests}
    return tuple(
        _strange_finding(name, lost.get(digests[name], "")) for name in sorted(digests) if name not in listed
    )


def _strange_finding(name: str, true_name: str) -> Finding:
    if true_name:
        text, remedy = f"{name} is {true_name} under another name.", f"Call it {true_name} again."
        return Finding(Level.CAUTION, "file-renamed", text, remedy)
    text = f"{name} is not of this kit."
    return Finding(Level.CAUTION, "file-unlisted", text, "Do not cut it with this kit: move it elsewhere.")
