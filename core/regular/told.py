"""What was made regular and what was left, in words, with its size in mm and in px of the picture."""

from collections import Counter

from core.findings import Finding, Level
from core.regular.regular import Change, Regular
from core.regular.rule import Rule

#: Places told one by one for each rule; beyond it their number says as much.
MOST_PLACES = 12

_MADE = {
    Rule.LEVEL: "This line is made level or upright",
    Rule.SQUARE: "The two lines here are made square",
    Rule.RADII: "This arc gets the same radius as others like it",
    Rule.CENTRES: "This arc gets the same centre as others like it",
    Rule.MIRROR: "Both halves are made each other's mirror image",
}
_LEFT = {
    Rule.LEVEL: "This line is off level or upright",
    Rule.SQUARE: "The two lines here are off square",
    Rule.RADII: "This arc's radius differs from others like it",
    Rule.CENTRES: "This arc's centre is beside that of others like it",
    Rule.MIRROR: "Both halves are no mirror image of each other: here they differ",
}


def told(regular: Regular, mm_per_px: float) -> tuple[Finding, ...]:
    """A note for every change, and for all that looks meant and was left; places in px, as the Outline."""
    if regular.too_many:
        return (_TOO_MANY,)
    seen: Counter[tuple[Rule, bool]] = Counter()
    found = []
    for change in regular.changes:
        kind = change.rule, change.is_made
        seen[kind] += 1
        if seen[kind] <= MOST_PLACES:
            found.append(_made(change, mm_per_px) if change.is_made else _left(change, mm_per_px))
    more = [_more(kind, count - MOST_PLACES) for kind, count in seen.items() if count > MOST_PLACES]
    return (*found, *more)


def _size(px: float, mm_per_px: float) -> str:
    return f"{px * mm_per_px:.3f} mm ({px:.3f} px)"


def _made(change: Change, mm_per_px: float) -> Finding:
    moved = _size(change.px or 0.0, mm_per_px)
    return Finding(
        Level.NOTE,
        f"made-{change.rule}",
        f"{_MADE[change.rule]}: the edge moves by {moved} at most.",
        "Leave this rule out if it is meant to be as drawn.",
        change.at,
    )


def _left(change: Change, mm_per_px: float) -> Finding:
    if change.px is None:
        return _NO_AXIS
    off, noise = (_size(px, mm_per_px) for px in (change.px, change.noise_px))
    why = f"noise of the picture explains {noise}"
    if change.px <= change.noise_px:
        why = "to mend that would move other edges by more than their noise"
    return Finding(
        Level.NOTE,
        f"left-{change.rule}",
        f"{_LEFT[change.rule]} by {off}; {why}, so it is left as drawn.",
        "Change the drawing if it is meant to be regular.",
        change.at,
    )


def _more(kind: tuple[Rule, bool], count: int) -> Finding:
    rule, is_made = kind
    return Finding(
        Level.NOTE,
        f"{'made' if is_made else 'left'}-{rule}-more",
        f"{count} more places like it: {(_MADE if is_made else _LEFT)[rule].lower()}.",
        "Leave this rule out if they are meant to be as drawn.",
    )


_NO_AXIS = Finding(
    Level.NOTE,
    "left-mirror",
    "No axis was found about which the shape is nearly its own mirror image, so it is left as drawn.",
    "Leave this rule out, or change the drawing.",
)
_TOO_MANY = Finding(
    Level.CAUTION,
    "too-many-edges",
    "The outline has so many edges that it is taken for a photograph: nothing in it is made regular.",
    "Use a drawing in flat colours, or a larger smallest speck.",
)
