"""A seeded campaign of random Jobs: each that can be typed gives a whole kit that proves, or one sentence.

Harm is a traceback, a kit that `check` finds something new in, or one whose own files its own proof stops:
whatever the maker chose, our files say what our report says. A stop about the *work* is no harm.

    python -m tests.campaigns.random_jobs --seed 1 --count 200
"""

from collections.abc import Iterator

import numpy as np
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as seeded

from core.cancel import NEVER
from core.errors import BadShape, SamecutError
from core.findings import Finding, Level
from core.job.choice import Stage
from core.job.job import CHOICES, Job, Source
from core.job.saved import PictureEntry, read_job, write_job
from core.kit.check import check_files
from core.kit.kit import Kit
from core.kit.make import make_kit
from core.proof.readback import breach
from tests.campaigns.tally import Tally, command
from tests.support.jobs import JOBS
from tests.support.pictures import badge_png

#: px; small, since what is tried is the choices.
PICTURE = 120
#: What the proof says of a kit that it stops.
PROOF_SAYS = breach("", "").remedy
#: mm; every Job has a height of a size that is soon made, unless it says another.
HEIGHT = "60 mm"
#: Choices about a picture that is another one: the badge is square already, and has nothing to touch up.
OF_THE_PICTURE = {key for key, choice in CHOICES.items() if choice.wakes in tuple(Stage)[:9]}


def jobs(seed: int, count: int) -> Iterator[Job]:
    """count random Jobs, of choices that do not ask for another trace; the same for the same seed."""
    made: list[Job] = []

    @seeded(seed)
    @settings(
        max_examples=count,
        phases=[Phase.generate],
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(JOBS)
    def gather(job: Job) -> None:
        made.append(job)

    gather()
    random = np.random.default_rng(seed)
    for job in made[:count]:
        yield _as_usual(job, random)


def _as_usual(job: Job, random: np.random.Generator) -> Job:
    """The Job with what wakes the trace as it was, and mostly a height that is soon made."""
    for key in OF_THE_PICTURE:
        job = job.with_value(key, CHOICES[key].default)
    height = f"{random.uniform(20, 150):.2f} mm"
    return job.with_choice("shape.height", height) if random.random() < 0.9 else job


def trial(job: Job) -> tuple[str, str]:
    """What is wrong in words, or "", and what became of the Job."""
    source = Source("turtle.png", badge_png(PICTURE))
    try:
        kit = make_kit(job, source, NEVER, lambda _stage: None)
    except BadShape as error:
        return f"a shape that is none: {error}", "traceback"
    except SamecutError as error:
        return ("" if str(error).count("\n") == 0 else f"no one sentence: {error}"), "refused"
    except Exception as error:  # noqa: BLE001 - a defect of ours, told as one
        return f"a traceback: {error!r}", "traceback"
    wrong = _wrong_with(kit, job)
    return wrong, "not proven" if wrong else "kit" if kit.report["program"] else "kit without program"


def _wrong_with(kit: Kit, job: Job) -> str:
    own = [one for one in kit.findings if one.remedy == PROOF_SAYS]
    if own:
        return f"its own proof stops it: {_words(own)}"
    again = [one for one in check_files(kit.files)[1] if one.level is not Level.NOTE]
    if again:
        return f"check finds what making it did not: {_words(again)}"
    again_read = read_job(write_job(job, PictureEntry("turtle.png")), "saved").job
    return "" if again_read == job else "saved and read it is another Job"


def _words(findings: list[Finding]) -> str:
    return "; ".join(f"{one.code} ({one.text})" for one in findings[:2])


def campaign(seed: int, count: int) -> Tally:
    """count Jobs made into kits; caught is what is as it should be."""
    tally = Tally()
    for index, job in enumerate(jobs(seed, count)):
        wrong, became = trial(job)
        said = {key: job.text(key) for key in CHOICES if job.value(key) != CHOICES[key].default}
        tally.count(
            became, f"{index}: {wrong} with {said}" if wrong else "", "" if wrong else became, is_dress=False
        )
    return tally


if __name__ == "__main__":
    command(__doc__ or "", campaign, 200)
