"""A report that lies among the files of another kit.

A report that fits its own digest was written so, and yet it may tell of other files than those beside it,
when it, or they, were put here from another kit. Which of the two, no file can say, so the report is named.
"""

from collections.abc import Mapping
from hashlib import sha256
from typing import Any

from core.findings import Finding
from core.kit.kit import FileRole
from core.kit.says import SAYS, report_digest, says_digest
from core.proof.claims import Claims, FileClaim
from core.proof.readback import breach
from core.proof.report_fields import REPORT_NAME

#: One file that is another one is told by its own name; of so many on, the report is doubted.
MANY = 2
#: What the Job of any kit is called.
JOB_ENDING = ".samecut"


def other_kit_findings(
    files: Mapping[str, bytes], report: Mapping[str, Any], claims: Claims
) -> tuple[Finding, ...]:
    """A stop when the files are others than a sound report lists: the Job and one more, or most of them.

    A file that is lost counts only where a strange one lies, which may be what stands for it in another kit.
    """
    if report.get(SAYS) != report_digest(report):
        return ()
    lost = [file for file in claims.files if file.path not in files]
    changed = [
        file for file in claims.files if file.path in files and not _says_the_same(files[file.path], file)
    ]
    strange = _strange(files, claims)
    count = len(changed) + min(len(lost), len(strange))
    is_other_job = any(map(_is_job, changed)) or (
        any(map(_is_job, lost)) and any(name.endswith(JOB_ENDING) for name in strange)
    )
    if count < MANY or not (is_other_job or 2 * count > len(claims.files)):
        return ()
    text = (
        f"{REPORT_NAME} tells of another kit than the one beside it: {count} of the {len(claims.files)} "
        "files that it lists are not those that it was made with."
    )
    return (breach("report-exchanged", text),)


def _is_job(file: FileClaim) -> bool:
    return file.role == FileRole.JOB


def _says_the_same(data: bytes, file: FileClaim) -> bool:
    """Whether it is the listed file, as far as the digests tell."""
    if sha256(data).hexdigest() == file.sha256:
        return True
    return file.says != "" and says_digest(data, file.format) == file.says


def _strange(files: Mapping[str, bytes], claims: Claims) -> list[str]:
    """Names of what the report neither lists nor knows under another name."""
    listed = {file.path for file in claims.files} | {REPORT_NAME}
    known = {file.sha256 for file in claims.files}
    return [name for name in files if name not in listed and sha256(files[name]).hexdigest() not in known]
