"""Which choice lies in which card of the sentence: the few that matter first, the rest folded away.

A choice that is named nowhere here is not lost: it lies folded in the card of its group.
"""

from dataclasses import dataclass, replace

from core.job.job import CHOICES


@dataclass(frozen=True)
class Card:
    """A card's name, its title, and the keys of its choices; more is unfolded on request."""

    name: str
    title: str
    few: tuple[str, ...]
    more: tuple[str, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """Every choice of the card."""
        return (*self.few, *self.more)


_NAMED = (
    Card("picture", "The picture", ("shape.colours", "files.name"),
         ("picture.corners", "picture.paper", "picture.level", "picture.crop", "picture.light",
          "picture.pixels", "picture.transfer",
          "picture.colours", "picture.palette", "picture.merged", "picture.ground",
          "shape.patches", "shape.smallest",
          "picture.touches", "shape.corners", "shape.regular", "shape.pieces", "shape.bridge_width",
          "shape.bridge_foot", "shape.base_margin")),
    Card("height", "How tall", ("shape.height",)),
    Card("sheet", "The sheet", ("stock.material", "stock.thickness", "stock.width", "stock.depth"),
         ("stock.masking_top", "stock.masking_bottom", "stock.zero_at", "stock.z_zero")),
    Card("bit", "The bit", ("bit.diameter", "bit.flutes", "cutting.speed", "cutting.feed", "cutting.depth"),
         ("bit.flute_length", "bit.stick_out", "cutting.plunge", "cutting.ramp", "cutting.skim",
          "cutting.safe_height", "cutting.rough", "cutting.last_lap", "cutting.allowance",
          "cutting.bits")),
    Card("router", "The router", ("machine.travel_x", "machine.travel_y", "machine.spindle"),
         ("machine.extension", "machine.travel_z", "machine.top_feed", "machine.acceleration",
          "machine.acceleration_z",
          "machine.corner_deviation", "machine.spin_up",
          "machine.spindle_slowest", "machine.spindle_fastest", "machine.dwell_unit", "machine.arcs",
          "machine.units", "machine.ending")),
    Card("tabs", "What holds it", ("part.hold", "part.tab_count", "part.tab_neck", "part.tab_height"),
         ("part.tab_spacing", "part.tabs", "part.entries", "part.skin")),
    Card("films", "The films", ("film.inset", "film.side"),
         ("film.match", "film.pairs", "film.picture_colours", "film.picture_ground", "film.colours",
          "film.patches")),
    Card("fit", "How it fits", ("fit.way", "fit.hole", "fit.dot", "fit.hinge"), (
        "fit.key", "fit.key_dot", "fit.marks", "fit.board", "fit.board_material",
    )),
)  # fmt: skip

#: The card that holds the choices of a group, where it is not called like the group.
_OF_GROUP = {
    "shape": "picture", "files": "picture", "stock": "sheet", "cutting": "bit", "machine": "router",
    "part": "tabs", "film": "films", "knife": "films",
}  # fmt: skip


def _completed(card: Card, named: frozenset[str]) -> Card:
    others = (key for key in CHOICES if key not in named)
    mine = tuple(key for key in others if _card_of_group(key.partition(".")[0]) == card.name)
    return replace(card, more=(*card.more, *mine))


def _card_of_group(group: str) -> str:
    wanted = _OF_GROUP.get(group, group)
    return wanted if any(card.name == wanted for card in _NAMED) else _NAMED[-1].name


_KEYS = frozenset(key for card in _NAMED for key in card.choices)
CARDS = tuple(_completed(card, _KEYS) for card in _NAMED)


def card_named(name: str) -> Card:
    """The card of this name."""
    return next(card for card in CARDS if card.name == name)


def card_of(key: str) -> Card:
    """The card that a choice lies in."""
    return next(card for card in CARDS if key in card.choices)
