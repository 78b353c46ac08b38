"""What a new picture takes over from the job before it: the machine and the bench, nothing of the picture."""

from dataclasses import replace

from core.job.job import Job

#: Groups that are about the bench, and not about a picture.
BENCH = ("fit", "stock", "bit", "cutting", "knife", "machine")


def carried(before: Job, name: str) -> Job:
    """A Job for the picture of this name, on the same machine, with the same bit, sheet and films.

    Height, colours, patches, touch-ups, and what a hand placed on part and sheet belong to a picture and
    begin anew: tabs, entries, marks and readings over them, a hole to hang by.
    """
    new = Job(source=name)
    bench = {group: getattr(before, group) for group in BENCH}
    bench["fit"] = replace(before.fit, marks=new.fit.marks, readings=new.fit.readings)
    hanger = new.part.hanger if isinstance(before.part.hanger, tuple) else before.part.hanger
    return replace(
        new,
        **bench,
        part=replace(before.part, tabs=new.part.tabs, entries=new.part.entries, hanger=hanger),
        film=replace(new.film, inset=before.film.inset, side=before.film.side),
    )
