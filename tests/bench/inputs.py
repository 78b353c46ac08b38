"""The fixed inputs of the benches, by name: the demo as it is saved, and the badge at two sizes."""

from importlib.resources import files

from core.job.job import Job, Source
from core.job.saved import read_job
from tests.support.pictures import badge_png


def demo() -> tuple[Job, Source]:
    """The demo's Job and picture."""
    folder = files("assets.demo")
    job = read_job((folder / "turtle.samecut").read_text(), "turtle.samecut").job
    return job, Source("turtle.png", (folder / "turtle.png").read_bytes())


def badge_of(height_px: int) -> tuple[Job, Source]:
    """The badge so many px high, to be 118 mm high."""
    job = Job(source="badge.png").with_choice("shape.height", "118 mm")
    return job, Source("badge.png", badge_png(height_px))


INPUTS = {
    "demo": demo,
    "shape of 600 px": lambda: badge_of(600),
    "shape of 1200 px": lambda: badge_of(1200),
}
