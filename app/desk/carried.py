"""What a new picture takes over from the job before it: the machine and the bench, nothing of the picture."""

from dataclasses import replace

from core.job.job import Job

#: Groups that are about the bench, and not about a picture.
BENCH = ("fit", "stock", "bit", "cutting", "knife", "machine")


def carried(before: Job, name: str) -> Job:
    """A Job for the picture of this name, on the same machine, with the same bit, sheet and films.

    Height, colours, patches, touch-ups and tab places belong to a picture and begin anew.
    """
    new = Job(source=name)
    return replace(
        new,
        **{group: getattr(before, group) for group in BENCH},
        part=replace(before.part, tabs=new.part.tabs),
        film=replace(new.film, inset=before.film.inset, side=before.film.side),
    )
