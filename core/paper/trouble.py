"""The lines of the stop card in words, from what may be changed."""

from core.paper.cards import StopLine
from core.router.stop_if import UNITS, Change, Number, StopIf, Trouble

NAMES = {
    Number.SPEED: "Spindle",
    Number.FEED: "Feed",
    Number.DEPTH: "Depth each pass",
    Number.PLUNGE: "Plunge",
}
#: What is seen or heard; what melts and what burns are told apart.
SIGNS = {
    Trouble.SQUEALS: "it squeals",
    Trouble.CHIPS: "the edge chips or splinters",
    Trouble.CHATTERS: "it chatters",
    Trouble.BENDS: "the bit bends: wall not upright, size off",
    Trouble.LIFTS: "the sheet or a part lifts or shifts",
}
MELTS, BURNS = "it melts, or chips turn to dust", "it smokes, burns, or makes dust"
#: What else is done, common practice, no source.
ALSO = {
    Trouble.MELTS: "First clear the slot and look at the bit: is it dull?",
    Trouble.SQUEALS: "A loose or dull bit squeals too.",
    Trouble.CHIPS: "A new, sharp bit does more.",
    Trouble.CHATTERS: "Bit deeper in the collet, sheet flat.",
    Trouble.BENDS: "Bit deeper in the collet.",
    Trouble.LIFTS: "Never hold it by hand: more clamps or tape first.",
}
SPENT = "A sharp bit: no number is left"


def stop_lines(told: tuple[StopIf, ...], *, melts: bool) -> tuple[StopLine, ...]:
    """A line for each trouble; melts: whether the material does, rather than burn."""
    signs = SIGNS | {Trouble.MELTS: MELTS if melts else BURNS}
    return tuple(StopLine(signs[one.trouble], _set(one), _follows(one)) for one in told)


def _set(one: StopIf) -> str:
    """The first change: "Feed 320 mm/min, not 400"."""
    if not one.changes:
        return SPENT
    first = one.changes[0]
    return f"{NAMES[first.number]} {first.then:g} {UNITS[first.number]}, not {first.now:g}"


def _follows(one: StopIf) -> str:
    """The chip or the bending then; a second change where a machine may not do the first; what else helps.

    Only a spindle's speed is told with a second change: not every spindle turns slower.
    """
    said = [_effect(one.trouble, change) for change in one.changes[:1]]
    if len(one.changes) > 1 and one.changes[0].number is Number.SPEED:
        other = one.changes[1]
        said.append(
            f"if it cannot: {NAMES[other.number].lower()} {other.then:g} {UNITS[other.number]}, "
            f"{_effect(one.trouble, other)}"
        )
    effects = "; ".join(part for part in said if part)
    return f"{effects[:1].upper()}{effects[1:]}. {ALSO[one.trouble]}" if effects else ALSO[one.trouble]


def _effect(trouble: Trouble, change: Change) -> str:
    if trouble is Trouble.BENDS:
        return f"it then bends {change.bend_mm:.2g} mm"
    return "" if change.number is Number.PLUNGE else f"chip {change.chip_mm:.3f} mm"
