"""What is to be said about where tabs stand, or cannot."""

from core.findings import Finding, Level, Point


def waste_not_held(at: Point) -> Finding:
    """A piece of waste that no contour can hold."""
    return Finding(
        Level.STOP,
        "waste-not-held",
        "A piece of waste comes loose here and there is no room for a tab to hold it.",
        "Use a narrower bit, or cut this opening away.",
        at,
    )


def nothing_behind(at: Point) -> Finding:
    """A contour round which the bit takes everything away."""
    return Finding(
        Level.STOP,
        "nothing-to-hold-on-to",
        "Round this contour the bit takes everything away: there is nothing for a tab to hold on to, and "
        "what it frees would be thrown.",
        "Use a narrower bit, join the pieces (shape.pieces), or close the gap.",
        at,
    )


def tabs_together(at: Point) -> Finding:
    """Tabs set by hand that are one."""
    return Finding(
        Level.STOP,
        "tabs-run-together",
        "The tab set here runs into the next one: what stands is not what was asked for.",
        "Drag them apart, leave one out, or make the tabs' neck shorter.",
        at,
    )


def wide_gap(at: Point, gap: float) -> Finding:
    """A run without a tab that is longer than asked."""
    return Finding(
        Level.CAUTION,
        "tabs-far-apart",
        f"Here the edge runs {gap:.0f} mm without a tab: there is nothing to hold on to.",
        "Hold this part with double-sided tape as well, or set a tab by hand.",
        at,
    )


def no_room(at: Point) -> Finding:
    """A contour that is too short."""
    return Finding(
        Level.STOP,
        "no-room-for-tabs",
        "This contour is too short for tabs: what it frees would be thrown.",
        "Make the part larger, the tabs' neck shorter, or use a narrower bit.",
        at,
    )


def few(at: Point, count: int, least: int) -> Finding:
    """Fewer tabs than asked for."""
    return Finding(
        Level.CAUTION,
        "few-tabs",
        f"There is room for {count} tabs on this contour, not for {least}.",
        "Hold this part with double-sided tape as well, or make the tabs' neck shorter.",
        at,
    )


def bent(at: Point) -> Finding:
    """A tab on a bend."""
    return Finding(
        Level.CAUTION,
        "tab-on-bend",
        "No straight run was free for this tab: it stands on a bend or a corner and is harder to clean.",
        "Drag the tab to a straighter run, or make the neck shorter.",
        at,
    )


def bare(at: Point) -> Finding:
    """A tab set by hand where nothing stands behind it."""
    return Finding(
        Level.STOP,
        "tab-without-footing",
        "Behind this tab there is little or no waste to hold on to: it may not hold at all.",
        "Drag the tab to a run with solid waste behind it.",
        at,
    )
