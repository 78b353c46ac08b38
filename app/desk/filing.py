"""What the work on the desk is called, and where its Job and its kit are proposed to go."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from app.desk.desk import Desk
from app.desk.homes import with_suffix
from core.job.choice import AUTO
from core.job.saved import SUFFIX
from core.kit.kit import plain_name


def work_name(desk: Desk) -> str:
    """The name of the Job's file, else that of the job."""
    return desk.home.job.stem if desk.home.job is not None else _job_name(desk)


def kit_place(desk: Desk) -> Path:
    """A folder beside the work, named for the job and its height."""
    shown = desk.shown
    height = f"-{shown.size_mm[1]:.3f}".rstrip("0").rstrip(".") + "mm" if shown is not None else ""
    return _folder(desk) / f"{_job_name(desk)}{height}-kit"


def ask_where(window: QWidget, desk: Desk) -> Path | None:
    """Let the maker say where the Job is to be saved; None where nothing was said."""
    proposed = _folder(desk) / with_suffix(Path(work_name(desk)))
    path, _ = QFileDialog.getSaveFileName(window, "Save the Job", str(proposed), f"Jobs (*{SUFFIX})")
    return with_suffix(Path(path)) if path else None


def _job_name(desk: Desk) -> str:
    job, source = desk.job, desk.source
    assert source is not None  # noqa: S101 - asked only with a picture on the desk
    return plain_name(source.stem if job.files.name is AUTO else str(job.files.name))


def _folder(desk: Desk) -> Path:
    from platformdirs import user_documents_path  # noqa: PLC0415 - needed only here

    return desk.home.folder or user_documents_path()
