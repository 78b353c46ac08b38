"""The job in words: pieces of text, and brackets that each open a card."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.desk.spoken import said
from core.job.choice import AUTO
from core.job.job import CHOICES, Job, Source

if TYPE_CHECKING:
    from core.shown import Shown


#: Each way of fitting, as the sentence ends.
WAYS = {"frame": "in its frame", "edge": "by its edge", "nest": "in a nest", "sheet": "on the sheet"}

#: Signs that stand beside the word before them and never begin a line.
SIGNS = frozenset(",.")


@dataclass(frozen=True)
class Piece:
    """Text, and the name of the card that it opens; empty for plain words. A sign stands alone."""

    text: str
    card: str = ""


def sentence(job: Job, source: Source, shown: "Shown | None") -> tuple[Piece, ...]:
    """The whole job, read from left to right."""
    return (
        Piece(_name(job, source), "picture"),
        Piece(_height(job), "height"),
        Piece("tall, of" if job.stock.copies == 1 else "tall,"),
        Piece(_sheet(job), "sheet"),
        Piece(","),
        Piece("cut with"),
        Piece(_bit(job), "bit"),
        Piece("on"),
        Piece(f"a {_side(job, 'machine.travel_x')} \u00d7 {_side(job, 'machine.travel_y')} router", "router"),
        Piece(","),
        Piece("held by"),
        Piece(_tabs(job, shown), "tabs"),
        Piece(","),
        Piece("faced with"),
        Piece(_films(job, shown), "films"),
        Piece(","),
        Piece("fitted"),
        Piece(WAYS[job.fit.way], "fit"),
        Piece("."),
    )


def plain(pieces: Sequence[Piece]) -> str:
    """The sentence as one text, for those who have it read to them."""
    return " ".join(piece.text for piece in pieces).replace(" ,", ",").replace(" .", ".")


def to_answer(job: Job) -> tuple[str, ...]:
    """Keys of the choices that only the maker can answer and has not."""
    return ("shape.height",) if job.shape.height is AUTO else ()


def _name(job: Job, source: Source) -> str:
    return source.stem if job.files.name is AUTO else str(job.files.name)


def _value(job: Job, key: str) -> str:
    return said(CHOICES[key], job.value(key))


def _height(job: Job) -> str:
    return "how many mm" if job.shape.height is AUTO else _value(job, "shape.height")


def _sheet(job: Job) -> str:
    sheet = f"{job.stock.material}, {_value(job, 'stock.thickness')}"
    return sheet if job.stock.copies == 1 else f"{job.stock.copies} pieces of {sheet}"


def _bit(job: Job) -> str:
    flutes = job.bit.flutes
    return f"a {_value(job, 'bit.diameter')} bit, {flutes} flute{'s' if flutes > 1 else ''}"


def _side(job: Job, key: str) -> str:
    return _value(job, key).removesuffix(" mm")


def _tabs(job: Job, shown: "Shown | None") -> str:
    if job.part.hold == "skin":
        return f"a skin of {_value(job, 'part.skin')}"
    count = len(shown.path.tabs) if shown is not None else job.part.tab_count
    return f"{count} tab{'' if count == 1 else 's'}"


def _films(job: Job, shown: "Shown | None") -> str:
    where = "on the front" if job.film.side == "front" else "behind"
    if shown is None:
        return f"films {where}"
    count = len(shown.films.films)
    return f"{count} film{'' if count == 1 else 's'} {where}"
